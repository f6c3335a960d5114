package website

import (
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTidy(t *testing.T) {
	for _, c := range []struct {
		name string
		ui   app.UI
		want string
	}{
		{
			name: "attributes in order and escaped for HTML",
			ui:   app.Input().Type("text").Name("gap").Placeholder(`0.002" & <less>`).ID("a"),
			want: `<input id="a" name="gap" placeholder="0.002&#34; &amp; &lt;less&gt;" type="text">`,
		},
		{
			name: "a query is not taken for a sign",
			ui:   app.A().Href("/bench/circuit/?coil=4.2&current=3&times=2&amp;lt=1"),
			want: `<a href="/bench/circuit/?coil=4.2&amp;current=3&amp;times=2&amp;lt=1"></a>`,
		},
		{
			name: "signs beyond ASCII stay as they are",
			ui:   app.Span().Title("26–40 Ω").Text("≤ 5 Ω"),
			want: `<span title="26–40 Ω">≤ 5 Ω</span>`,
		},
		{
			name: "what is not hidden has no such attribute",
			ui:   app.Div().Body(app.P().Hidden(false).Text("seen"), app.P().Hidden(true).Text("unseen")),
			want: `<div><p>seen</p><p hidden>unseen</p></div>`,
		},
		{
			name: "states in words keep their word",
			ui:   app.Button().Aria("expanded", true).Aria("pressed", false).Text("More"),
			want: `<button aria-expanded="true" aria-pressed="false">More</button>`,
		},
		{
			name: "an empty alternative text stays empty",
			ui:   app.Img().Alt("").Src("/web/x.svg"),
			want: `<img alt src="/web/x.svg">`,
		},
		{
			name: "no space between children that the program draws side by side",
			ui:   app.P().Body(app.Span().Text("26"), app.Text(" to "), app.Span().Text("40")),
			want: `<p><span>26</span> to <span>40</span></p>`,
		},
		{
			name: "texts one after the other belong together",
			ui:   app.Div().Body(app.P().Body(app.Text("26"), app.Text(" to 40")), app.P().Body(app.B().Text("a"), app.Text(". "), app.Text("b"))),
			want: `<div><p>26 to 40</p><p><b>a</b>. b</p></div>`,
		},
		{
			name: "line breaks within a text stay",
			ui:   app.Pre().Text("one\ntwo\n"),
			want: "<pre>one\ntwo\n</pre>",
		},
		{
			name: "text is escaped once",
			ui:   app.P().Text(`a < b & "c"`),
			want: `<p>a &lt; b &amp; &#34;c&#34;</p>`,
		},
		{
			name: "a drawing keeps its own markup",
			ui:   app.Div().Body(app.Raw(`<svg viewBox="0 0 1 1"><path d="M0 0"/><title>a &amp; b</title></svg>`)),
			want: `<div><svg viewBox="0 0 1 1"><path d="M0 0"></path><title>a &amp; b</title></svg></div>`,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := tidy(app.HTMLString(c.ui))
			require.NoError(t, err)
			assert.Equal(t, c.want, got)
		})
	}
}

func TestTidyRefusesWhatItCannotRead(t *testing.T) {
	for _, c := range []struct{ markup, want string }{
		{`<p>open`, "website: prepared markup: <p> is not closed"},
		{`<p><b></p></b>`, "website: prepared markup: </p> stands where <b> is open"},
		{`<p title='x'></p>`, `website: prepared markup: <p title> is not in double quotes at "='x'></p>"`},
	} {
		_, err := tidy(c.markup)
		assert.EqualError(t, err, c.want)
	}
}
