package jobs

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
)

// Transfer takes jobs and the user's own values out of this browser, as a file
// or a link, and into it.
type Transfer struct {
	app.Compo
	Session *session.Session

	problem  string
	offer    *store.Transfer // what was brought, not yet taken
	from     string
	arrivals []store.Arrival
	link     string
	long     bool // the job is too large for a link
}

// Title names the screen.
func (*Transfer) Title() string { return "Send and bring jobs" }

// Description says what the screen is for.
func (*Transfer) Description() string {
	return "Jobs and your own values as a file or a link, from this device to another and back. Nothing goes through a server."
}

// maxLink is how many characters of a job go into a link. Longer ones are cut by
// some apps on the way.
const maxLink = 6000

// longestLink is the most that is unpacked of a link: this tool makes none as
// long, and a few characters more could unpack to more than a phone holds.
const longestLink = 4 * maxLink

// maxQR is how many characters a square code takes that a phone reads off a
// screen.
const maxQR = 1200

// OnMount reads the jobs, and takes what stands in the address.
func (x *Transfer) OnMount(app.Context) {
	x.Session.Watch(x)
	x.Session.Open()
}

// The names of a job in the fragment of an address: compressed, and only coded.
const (
	packedJob = "#job="
	plainJob  = "#plain="
)

// OnNav takes a job that stands in the address. It is shown before anything is
// taken in.
func (x *Transfer) OnNav(ctx app.Context) {
	fragment := dom.Fragment()
	coded, packed := strings.CutPrefix(fragment, packedJob)
	if !packed {
		var plain bool
		if coded, plain = strings.CutPrefix(fragment, plainJob); !plain {
			return
		}
	}
	broken := func(app.Context) {
		x.problem = "The link is cut off or damaged. Have it sent again, or as a file."
		x.Update()
	}
	if len(coded) > longestLink {
		broken(ctx)
		return
	}
	dom.Inflate(ctx, coded, packed, store.MaxTransfer, func(ctx app.Context, text string) {
		x.read("the link", text)
		x.Update()
	}, broken)
}

// read takes a file's text and shows what it would do.
func (x *Transfer) read(from, text string) {
	x.problem, x.offer, x.arrivals, x.from = "", nil, nil, from
	t, err := store.Unpack([]byte(text))
	if err != nil {
		x.problem = sentence(err)
		return
	}
	x.offer, x.arrivals = &t, x.Session.Arrivals(t)
}

func sentence(err error) string {
	if s, ok := err.(interface{ Sentence() string }); ok {
		return s.Sentence()
	}
	return "This can't be read."
}

// Render draws both directions.
func (x *Transfer) Render() app.UI {
	body := []app.UI{
		app.H1().Text(x.Title()),
		app.P().Text("A file holds jobs and your own values. Keep one now and then: a browser may delete what it keeps when the device runs out of space, and it always does when its data are cleared."),
	}
	return app.Article().Body(append(body,
		part.Section("out", "Send", x.out()...),
		part.Section("in", "Bring", x.in()...),
		x.aside(),
	)...)
}

// aside shows what was damaged, to be saved for somebody who can mend it.
func (x *Transfer) aside() app.UI {
	pieces := x.Session.Aside()
	if len(pieces) == 0 {
		return app.Div()
	}
	body := []app.UI{app.P().Text("These records could not be read and were set aside as they are. Save them before you delete them; much of what was typed may still be readable in the file.")}
	for n, key := range slices.Sorted(maps.Keys(pieces)) {
		name := fmt.Sprintf("Damaged record %d, %d characters", n+1, len(pieces[key]))
		body = append(body, app.Div().Class("plan__row").Body(
			app.P().Class("plan__what").Text(name),
			app.Div().Class("buttons").Body(
				&part.Button{Text: "Save as a file", Of: name, OnPress: func(app.Context) { dom.Download("damaged-"+fileName(key)+".txt", "text/plain", pieces[key]) }},
				&part.Button{Text: "Delete", Of: name, Rank: "quiet", OnPress: func(app.Context) { x.Session.DropAside(key) }},
			)))
	}
	return part.Section("aside", "Set aside", body...)
}

func (x *Transfer) out() []app.UI {
	j := x.Session.Job()
	n := len(x.Session.Jobs())
	if n == 0 && len(x.Session.Own()) == 0 {
		return []app.UI{app.P().Text("There is nothing to send yet.")}
	}
	save := func(name string, t store.Transfer) {
		t.Tool = app.Getenv("GOAPP_VERSION")
		text, err := x.Session.Export(t)
		if err != nil {
			x.Session.Say("It could not be written.")
			return
		}
		dom.Download(fileName(name)+".json", "application/json", text)
		x.Session.Say("Saved as a file.")
	}
	row := []app.UI{&part.Button{Text: "All as a file", Of: counted(n, "job", "jobs") + " and your own values", Rank: "primary", OnPress: func(app.Context) {
		save("proving-bench-all", store.Transfer{Jobs: x.Session.Jobs(), Values: x.Session.Own()})
		x.Session.Exported()
	}}}
	if j != nil {
		row = append(row,
			&part.Button{Text: "This job as a file", Of: j.Name, OnPress: func(app.Context) { save(j.Name, store.Transfer{Jobs: []*store.Job{j}}) }},
			&part.Button{Text: "This job as a link", Of: j.Name, OnPress: func(ctx app.Context) { x.makeLink(ctx, j) }},
		)
	}
	if len(x.Session.Own()) > 0 {
		row = append(row, &part.Button{Text: "Your own values as a file", OnPress: func(app.Context) {
			save("proving-bench-values", store.Transfer{Values: x.Session.Own()})
		}})
	}
	body := []app.UI{app.Div().Class("buttons").Body(row...)}
	switch {
	case x.long:
		body = append(body, app.P().Text("This job is too large for a link. Send it as a file."))
	case x.link != "":
		body = append(body, app.P().Text("The link holds the whole job; nothing is kept on a server. Who opens it sees it before taking it."),
			app.P().Class("link").Text(x.link),
			app.Div().Class("buttons").Body(
				&part.Button{Text: "Copy the link", OnPress: func(ctx app.Context) {
					copyOut(ctx, x.Session, x.link, "Mark the link and copy it by hand.")
				}}),
		)
		if code, ok := square(x.link); ok {
			body = append(body, code)
		} else {
			body = append(body, app.P().Text("It is too long for a square code."))
		}
	}
	return body
}

func (x *Transfer) makeLink(ctx app.Context, j *store.Job) {
	text, err := x.Session.Export(store.Transfer{Jobs: []*store.Job{j}})
	if err != nil {
		return
	}
	dom.Deflate(ctx, text, func(ctx app.Context, coded string, packed bool) {
		name := plainJob
		if packed {
			name = packedJob
		}
		x.long = len(coded) > maxLink
		x.link = ""
		if !x.long {
			x.link = dom.Origin() + route.Transfer().Href() + name + coded
		}
		x.Update()
	})
}

func (x *Transfer) in() []app.UI {
	body := []app.UI{
		app.Label().Class("field__label").For("file").Text("A file that this tool wrote"),
		app.Input().Type("file").Class("file").ID("file").Accept(".json,application/json").OnChange(func(ctx app.Context, _ app.Event) {
			dom.ReadFile(ctx, "file", store.MaxTransfer, func(ctx app.Context, name, text string) {
				x.read(name, text)
				x.Update()
			}, func(ctx app.Context) {
				x.problem = fmt.Sprintf("The file can't be read, or is larger than %d MB. It is no file of this tool.", store.MaxTransfer>>20)
				x.Update()
			})
		}),
	}
	if x.problem != "" {
		body = append(body, app.P().Class("field__problem").Attr("role", "alert").Body(part.Icon("alert"), app.Span().Text(x.problem)))
	}
	if x.offer == nil {
		return body
	}
	body = append(body, app.H3().Text("In "+x.from))
	var rows []app.UI
	for _, a := range x.arrivals {
		rows = append(rows, app.Li().Class("job").Body(
			app.P().Class("job__name").Text(a.Job.Name),
			app.P().Class("row__more").Text(what(a)+" "+counted(len(a.Job.Case.Entries), "entry", "entries")+", changed "+when(a.Job.Updated)+"."),
		))
	}
	names, differ := x.Session.Differing(x.offer.Values)
	for _, n := range names {
		rows = append(rows, app.Li().Class("job").Body(app.P().Class("job__name").Text("Your own value: "+n)))
	}
	if len(rows) == 0 {
		return append(body, app.P().Text("There is nothing in it."))
	}
	body = append(body, app.Ul().Class("rows").Body(rows...))
	if differ > 0 {
		body = append(body, app.P().Text(counted(differ, "value", "values")+" of your own here would be replaced. Save yours as a file first if you want to keep them."))
	}
	return append(body, app.Div().Class("buttons").Body(
		&part.Button{Text: "Take it in", Rank: "primary", OnPress: func(app.Context) {
			x.Session.Accept(*x.offer)
			x.offer, x.arrivals = nil, nil
		}},
		&part.Button{Text: "Leave it", Rank: "quiet", OnPress: func(app.Context) { x.offer, x.arrivals = nil, nil }},
	))
}

// what says what taking a job in would do.
func what(a store.Arrival) string {
	switch {
	case a.Same:
		return "Here already, just so."
	case a.Here != nil:
		return "Here already, and different: it would come in beside yours as a copy."
	}
	return "New."
}
