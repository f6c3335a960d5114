package website

import (
	"encoding/json"
	"fmt"
	"html"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/route"
)

// policy lets the page use its own files and nothing else. Only the program may
// be compiled from bytes; no script or style stands in the page itself.
const policy = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; " +
	"img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'self'"

const (
	shortName   = "Proving Bench"
	description = "Offline field reference for finding, proving and repairing faults in a four-speed truck automatic transmission."
	dayColour   = "#ffffff"
)

// versionMark stands in the pages until the version is known, which is made of
// the pages among other things.
const versionMark = "@version@"

// document is the page of one address as hosts send it: complete to read, with
// the program yet to come.
func (s *site) document(a route.Address) ([]byte, error) {
	page := s.tool.Page(a)
	tester := app.NewServerTester(page)
	printed := app.HTMLString(page)
	title, summary := page.Heading(), page.Summary()
	tester.Close()

	body, err := tidy(printed)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", a, err)
	}
	attr := html.EscapeString
	var b strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	p(`<!DOCTYPE html>`)
	p(`<html lang="en">`)
	p(`<head>`)
	p(`<meta http-equiv="Content-Security-Policy" content="%s">`, attr(policy))
	p(`<meta charset="utf-8">`)
	p(`<meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">`)
	p(`<title>%s</title>`, attr(title))
	p(`<meta name="description" content="%s">`, attr(summary))
	p(`<meta name="theme-color" content="%s">`, css(groundColour))
	p(`<meta property="og:title" content="%s">`, attr(title))
	p(`<meta property="og:description" content="%s">`, attr(summary))
	p(`<meta property="og:type" content="website">`)
	p(`<link rel="icon" type="image/svg+xml" href="%s">`, s.href("web/icons/icon.svg"))
	p(`<link rel="icon" type="image/png" sizes="192x192" href="%s">`, s.href("web/icons/icon-192.png"))
	p(`<link rel="apple-touch-icon" href="%s">`, s.href("web/icons/touch-180.png"))
	p(`<link rel="manifest" href="%s">`, s.href("manifest.webmanifest"))
	p(`<link rel="stylesheet" href="%s">`, s.hashed("web/site.css"))
	p(`<script defer src="%s"></script>`, s.hashed("web/wasm_exec.js"))
	p(`<script defer src="%s" data-base="%s"></script>`, s.hashed("web/guard.js"), attr(s.base))
	p(`<script defer src="%s" data-base="%s" data-program="%s" data-plain="%s" data-kept="%s" data-version="%s"></script>`,
		s.hashed("web/start.js"), attr(s.base), packedTool+s.mark, plainTool+s.mark, keptProgram+s.mark, versionMark)
	p(`</head>`)
	p(`<body>`)
	p(`%s`, body)
	p(`<noscript><p class="status">Without scripts this page can be read, but the tool cannot judge readings or follow a complaint.</p></noscript>`)
	p(`</body>`)
	p(`</html>`)
	return []byte(b.String()), nil
}

type manifest struct {
	ID              string         `json:"id"`
	Name            string         `json:"name"`
	ShortName       string         `json:"short_name"`
	Description     string         `json:"description"`
	Lang            string         `json:"lang"`
	Dir             string         `json:"dir"`
	Categories      []string       `json:"categories"`
	StartURL        string         `json:"start_url"`
	Scope           string         `json:"scope"`
	Display         string         `json:"display"`
	BackgroundColor string         `json:"background_color"`
	ThemeColor      string         `json:"theme_color"`
	Icons           []manifestIcon `json:"icons"`
	Shortcuts       []shortcut     `json:"shortcuts"`
}

type manifestIcon struct {
	Src     string `json:"src"`
	Type    string `json:"type"`
	Sizes   string `json:"sizes"`
	Purpose string `json:"purpose"`
}

type shortcut struct {
	Name string `json:"name"`
	URL  string `json:"url"`
}

// manifest tells systems how to put the tool on a home screen.
func (s *site) manifest() []byte {
	m := manifest{
		ID:              s.base,
		Name:            s.tool.Name,
		ShortName:       shortName,
		Description:     description,
		Lang:            "en",
		Dir:             "ltr",
		Categories:      []string{"utilities", "productivity"},
		StartURL:        s.base,
		Scope:           s.base,
		Display:         "standalone",
		BackgroundColor: dayColour,
		ThemeColor:      css(groundColour),
		Icons: []manifestIcon{
			{s.href("web/icons/icon.svg"), "image/svg+xml", "any", "any"},
			{s.href("web/icons/icon-192.png"), "image/png", "192x192", "any"},
			{s.href("web/icons/icon-512.png"), "image/png", "512x512", "any"},
			{s.href("web/icons/maskable-512.png"), "image/png", "512x512", "maskable"},
		},
		Shortcuts: []shortcut{
			{"Find the cause", route.Find().Href()},
			{"Checks", route.Checks().Href()},
			{"Bench", route.Bench().Href()},
		},
	}
	out, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		panic(err) // plain strings
	}
	return append(out, '\n')
}
