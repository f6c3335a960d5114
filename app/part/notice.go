package part

import "github.com/maxence-charriere/go-app/v9/pkg/app"

// Notice is something that the user has to be told about the tool itself.
type Notice struct {
	app.Compo

	Text    string
	OnClose func(app.Context)
}

// Render draws the notice.
func (n *Notice) Render() app.UI {
	return app.Div().Class("notice").Attr("role", "note").Body(
		Icon("alert"),
		app.P().Class("notice__text").Text(n.Text),
		&Button{Text: "Close", Of: "this notice", Rank: "quiet", OnPress: func(ctx app.Context) {
			if n.OnClose != nil {
				n.OnClose(ctx)
			}
		}},
	)
}

var noticeExamples = []app.UI{&Notice{Text: "A saved job was damaged and has been set aside. The other jobs are not affected."}}
