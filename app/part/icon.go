package part

import "github.com/maxence-charriere/go-app/v9/pkg/app"

// The icons stand beside words and never alone; screen readers skip them.
const (
	iconHead  = `<svg class="icon" viewBox="0 0 24 24" width="24" height="24" aria-hidden="true" focusable="false">`
	iconStill = `fill="none" stroke="currentColor" stroke-width="2.5" stroke-linecap="round" stroke-linejoin="round"`
)

var icons = map[string]string{
	"good":   `<path ` + iconStill + ` d="M4 12.5l5.5 5.5L20 6.5"/>`,
	"bad":    `<path ` + iconStill + ` d="M5.5 5.5l13 13M18.5 5.5l-13 13"/>`,
	"unsure": `<path ` + iconStill + ` d="M4 9c3-4 5 4 8 0s5 4 8 0M4 16c3-4 5 4 8 0s5 4 8 0"/>`,
	"none":   `<path ` + iconStill + ` d="M6 12h12"/>`,
	"alert":  `<path fill="currentColor" fill-rule="evenodd" d="M12 2 1 21.5h22zm-1.3 6.5h2.6v7h-2.6zm0 8.6h2.6v2.4h-2.6z"/>`,
	"proved": `<path ` + iconStill + ` d="M12 2.5l8 3v6c0 5-3.4 8.4-8 10-4.6-1.6-8-5-8-10v-6zM8 12l3 3 5.5-6"/>`,
	"open":   `<path ` + iconStill + ` d="M6 9l6 6 6-6"/>`,
	"shut":   `<path ` + iconStill + ` d="M9 6l6 6-6 6"/>`,
	"search": `<path ` + iconStill + ` d="M10.5 4a6.5 6.5 0 1 0 0 13 6.5 6.5 0 0 0 0-13zM15.5 15.5 21 21"/>`,
	// Where a figure comes from: a book, a wrench, a question, a made-up thing, a pencil.
	"published":       `<path ` + iconStill + ` d="M12 6c-2-1.7-5-2-8-2v14c3 0 6 .3 8 2 2-1.7 5-2 8-2V4c-3 0-6 .3-8 2zM12 6v14"/>`,
	"common-practice": `<path ` + iconStill + ` d="M20 7a5 5 0 0 1-6.6 4.7L6.5 18.6a2.1 2.1 0 0 1-3-3l6.9-6.9A5 5 0 0 1 16.5 3L14 6l1 3 3 1z"/>`,
	"memory":          `<path ` + iconStill + ` d="M8 9a4 4 0 1 1 5.6 3.7c-1.1.5-1.6 1.2-1.6 2.8M12 20v.2"/>`,
	"demo":            `<path ` + iconStill + ` d="M9 3h6M10 3v6l-5.5 9.5A1.7 1.7 0 0 0 6 21h12a1.7 1.7 0 0 0 1.5-2.5L14 9V3M7.5 15h9"/>`,
	"own":             `<path ` + iconStill + ` d="M4 20l1-4L16 5l3 3L8 19zM14 7l3 3"/>`,
	"light":           `<path ` + iconStill + ` d="M12 7.5a4.5 4.5 0 1 0 0 9 4.5 4.5 0 0 0 0-9zM12 2v2M12 20v2M2 12h2M20 12h2M5 5l1.4 1.4M17.6 17.6 19 19M19 5l-1.4 1.4M6.4 17.6 5 19"/>`,
}

// Icon is a drawing beside a word: good, bad, unsure, none, alert, proved,
// open, shut, search, light or a kind of provenance. An unknown name draws nothing.
func Icon(name string) app.UI {
	return app.Raw(iconHead + icons[name] + `</svg>`)
}
