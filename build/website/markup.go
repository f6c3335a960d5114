package website

import (
	"fmt"
	"html"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// tidy turns what go-app prints into HTML that means what the components meant,
// and that is the same at every build.
//
// go-app quotes attributes as Go strings instead of escaping them, in a new
// order each time; it leaves out the value of whatever is "true", which
// aria-expanded needs, and writes hidden="false", which hides; and it puts a
// line break before each child, which shows as a space that is not there once
// the program draws the page.
func tidy(printed string) (string, error) {
	s := scanner{rest: printed}
	nodes, err := s.children("")
	if err != nil {
		return "", fmt.Errorf("website: prepared markup: %w", err)
	}
	var b strings.Builder
	for _, n := range nodes {
		n.write(&b)
	}
	return b.String(), nil
}

// node is an element, or text when it has no name.
type node struct {
	name       string
	attributes []attribute
	children   []node
	text       string
}

type attribute struct {
	name, value string
	bare        bool // printed without a value
}

type scanner struct{ rest string }

var void = map[string]bool{
	"area": true, "base": true, "br": true, "col": true, "embed": true, "hr": true, "img": true,
	"input": true, "link": true, "meta": true, "source": true, "track": true, "wbr": true,
}

// children reads up to the end tag of parent, or to the end without one.
func (s *scanner) children(parent string) ([]node, error) {
	var nodes []node
	for {
		i := strings.IndexByte(s.rest, '<')
		if i < 0 {
			if parent != "" {
				return nil, fmt.Errorf("<%s> is not closed", parent)
			}
			if s.rest != "" {
				nodes = append(nodes, node{text: s.rest})
			}
			return nodes, nil
		}
		if i > 0 {
			nodes = append(nodes, node{text: s.rest[:i]})
			s.rest = s.rest[i:]
		}
		if strings.HasPrefix(s.rest, "</") {
			end, after, ok := strings.Cut(s.rest[2:], ">")
			if !ok || strings.TrimSpace(end) != parent {
				return nil, fmt.Errorf("</%s> stands where <%s> is open", end, parent)
			}
			s.rest = after
			return withoutBreaks(parent, nodes), nil
		}
		n, err := s.element()
		if err != nil {
			return nil, err
		}
		nodes = append(nodes, n)
	}
}

var (
	tagName       = regexp.MustCompile(`^<([A-Za-z][A-Za-z0-9-]*)`)
	attributeName = regexp.MustCompile(`^\s+([A-Za-z_:][-A-Za-z0-9_:.]*)`)
	tagEnd        = regexp.MustCompile(`^\s*(/?)>`)
)

func (s *scanner) element() (node, error) {
	m := tagName.FindStringSubmatch(s.rest)
	if m == nil {
		return node{}, fmt.Errorf("no tag at %.40q", s.rest)
	}
	n := node{name: m[1]}
	s.rest = s.rest[len(m[0]):]
	for {
		if m := tagEnd.FindStringSubmatch(s.rest); m != nil {
			s.rest = s.rest[len(m[0]):]
			if m[1] == "/" || void[n.name] {
				return n, nil
			}
			children, err := s.children(n.name)
			n.children = children
			return n, err
		}
		m := attributeName.FindStringSubmatch(s.rest)
		if m == nil {
			return node{}, fmt.Errorf("<%s> has no attribute at %.40q", n.name, s.rest)
		}
		s.rest = s.rest[len(m[0]):]
		a := attribute{name: m[1], bare: true}
		if strings.HasPrefix(s.rest, "=") {
			quoted, err := strconv.QuotedPrefix(s.rest[1:])
			if err != nil || quoted[0] != '"' {
				return node{}, fmt.Errorf("<%s %s> is not in double quotes at %.40q", n.name, a.name, s.rest)
			}
			s.rest = s.rest[1+len(quoted):]
			a.bare = false
			if a.value, err = strconv.Unquote(quoted); err != nil {
				return node{}, fmt.Errorf("<%s %s>: %w", n.name, a.name, err)
			}
		}
		n.attributes = append(n.attributes, a)
	}
}

// withoutBreaks takes away the line breaks that go-app printed around children:
// one before each and one at the end, wherever there are several. A text between
// them is several texts, printed one below the other, that belong together. Only
// what is preformatted has line breaks of its own.
func withoutBreaks(parent string, nodes []node) []node {
	if len(nodes) == 0 || parent == "pre" || parent == "textarea" ||
		!strings.HasPrefix(nodes[0].text, "\n") || !strings.HasSuffix(nodes[len(nodes)-1].text, "\n") {
		return nodes
	}
	var kept []node
	for _, n := range nodes {
		if n.name == "" {
			n.text = strings.ReplaceAll(n.text, "\n", "")
			if n.text == "" {
				continue
			}
		}
		kept = append(kept, n)
	}
	return kept
}

// boolean attributes are there or not; their value says nothing.
var boolean = map[string]bool{
	"async": true, "autofocus": true, "autoplay": true, "checked": true, "controls": true,
	"default": true, "defer": true, "disabled": true, "formnovalidate": true, "hidden": true,
	"ismap": true, "loop": true, "multiple": true, "muted": true, "novalidate": true, "open": true,
	"readonly": true, "required": true, "reversed": true, "selected": true,
}

// enumerated attributes need the word true; go-app leaves it out.
func enumerated(name string) bool {
	switch name {
	case "contenteditable", "draggable", "spellcheck":
		return true
	}
	return strings.HasPrefix(name, "aria-") || strings.HasPrefix(name, "data-")
}

func (n node) write(b *strings.Builder) {
	if n.name == "" {
		b.WriteString(n.text)
		return
	}
	b.WriteString("<" + n.name)
	slices.SortFunc(n.attributes, func(x, y attribute) int { return strings.Compare(x.name, y.name) })
	for _, a := range n.attributes {
		switch {
		case boolean[a.name] && a.value == "false":
		case boolean[a.name], a.bare && !enumerated(a.name):
			b.WriteString(" " + a.name)
		case a.bare:
			b.WriteString(" " + a.name + `="true"`)
		default:
			b.WriteString(" " + a.name + `="` + escape(a.value) + `"`)
		}
	}
	b.WriteString(">")
	if void[n.name] {
		return
	}
	for _, c := range n.children {
		c.write(b)
	}
	b.WriteString("</" + n.name + ">")
}

// escape makes a value fit between double quotes. Ready-made markup that went
// through a component brings its escapes along; unescaping first keeps them
// from being escaped twice. Without its semicolon it is none: "&current=3" in an
// address is not the sign of a currency.
func escape(value string) string {
	return html.EscapeString(entity.ReplaceAllStringFunc(value, html.UnescapeString))
}

var entity = regexp.MustCompile(`&(?:#[0-9]+|#[xX][0-9a-fA-F]+|[A-Za-z][A-Za-z0-9]*);`)
