package bench

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
)

// boxes is what stands in the boxes of a table, by key. As in part.Field the
// browser owns the text while the user types: what is drawn is what a box began
// with, and only a value that comes from outside is written into it.
type boxes struct{ typed, first map[string]string }

// begun is the value that a box is drawn with, which it begins with now if it
// has not before.
func (b *boxes) begun(key, value string) string {
	if b.typed == nil {
		b.typed, b.first = map[string]string{}, map[string]string{}
	}
	if _, begun := b.first[key]; !begun {
		b.first[key], b.typed[key] = value, value
	}
	return b.first[key]
}

// follow writes a value into its box if it came from outside.
func (b *boxes) follow(key, id, value string) {
	if typed, begun := b.typed[key]; begun && typed != value {
		b.typed[key] = value
		dom.SetValue(id, value)
	}
}

// input handles what is typed into a box: then is told of what is new.
func (b *boxes) input(key string, then func(ctx app.Context, key, value string)) app.EventHandler {
	return func(ctx app.Context, _ app.Event) {
		if value := ctx.JSSrc().Get("value").String(); value != b.typed[key] {
			b.typed[key] = value
			then(ctx, key, value)
		}
	}
}
