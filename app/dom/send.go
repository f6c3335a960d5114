package dom

import (
	"encoding/base64"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// settle calls ok or failed when a promise ends, on go-app's UI goroutine.
func settle(ctx app.Context, promise app.Value, ok func(app.Context, app.Value), failed func(app.Context)) {
	var good, bad app.Func
	release := func() {
		good.Release()
		bad.Release()
	}
	good = app.FuncOf(func(_ app.Value, args []app.Value) any {
		defer release()
		v := app.Undefined()
		if len(args) > 0 {
			v = args[0]
		}
		ctx.Dispatch(func(ctx app.Context) { ok(ctx, v) })
		return nil
	})
	bad = app.FuncOf(func(app.Value, []app.Value) any {
		defer release()
		ctx.Dispatch(failed)
		return nil
	})
	promise.Call("then", good, bad)
}

// navigator is what the browser has under a name of its navigator, when it has it.
func navigator(name string) (app.Value, bool) {
	if app.IsServer {
		return nil, false
	}
	v := window().Get("navigator").Get(name)
	return v, v.Truthy()
}

// CanShare reports whether the browser passes texts on to other apps.
func CanShare() bool {
	_, ok := navigator("share")
	return ok
}

// Share passes a text on to another app of the user's choice. done says whether
// the browser took it; a user who changed their mind counts as done.
func Share(ctx app.Context, title, text string, done func(app.Context, bool)) {
	if !CanShare() {
		done(ctx, false)
		return
	}
	promise := window().Get("navigator").Call("share", map[string]any{"title": title, "text": text})
	settle(ctx, promise, func(ctx app.Context, _ app.Value) { done(ctx, true) }, func(ctx app.Context) { done(ctx, true) })
}

// Copy puts a text on the clipboard.
func Copy(ctx app.Context, text string, done func(app.Context, bool)) {
	clipboard, ok := navigator("clipboard")
	if !ok {
		done(ctx, false)
		return
	}
	settle(ctx, clipboard.Call("writeText", text), func(ctx app.Context, _ app.Value) { done(ctx, true) }, func(ctx app.Context) { done(ctx, false) })
}

// Download has the browser save a text as a file.
func Download(name, mime, text string) {
	if app.IsServer {
		return
	}
	blob := window().Get("Blob").New([]any{text}, map[string]any{"type": mime})
	urls := window().Get("URL")
	address := urls.Call("createObjectURL", blob)
	link := document().Call("createElement", "a")
	link.Set("href", address)
	link.Set("download", name)
	link.Call("click")
	window().Call("setTimeout", app.FuncOf(func(app.Value, []app.Value) any {
		urls.Call("revokeObjectURL", address)
		return nil
	}), 60000)
}

// ReadFile reads the file that was picked in the field of the given id. A file
// larger than most bytes is not read; too says so. Nothing picked calls nothing.
func ReadFile(ctx app.Context, id string, most int, read func(ctx app.Context, name, text string), too func(app.Context)) {
	v, ok := byID(id)
	if !ok || v.Get("files").Get("length").Int() == 0 {
		return
	}
	file := v.Get("files").Index(0)
	if file.Get("size").Int() > most {
		too(ctx)
		return
	}
	name := file.Get("name").String()
	settle(ctx, file.Call("text"), func(ctx app.Context, text app.Value) {
		v.Set("value", "") // the same file can be picked again
		read(ctx, name, text.String())
	}, func(ctx app.Context) { too(ctx) })
}

// Kept says whether the browser has promised not to delete what the tool keeps.
type Kept string

// What a browser says of it.
const (
	KeptUnknown Kept = ""    // it does not say
	KeptYes     Kept = "yes" // it will not delete it by itself
	KeptNo      Kept = "no"  // it may, when space is short
)

// AskKept asks whether what is kept is safe; with please, it asks the browser to
// promise it, which browsers allow after an act of the user's.
func AskKept(ctx app.Context, please bool, answer func(app.Context, Kept)) {
	storage, ok := navigator("storage")
	name := "persisted"
	if please {
		name = "persist"
	}
	if !ok || !storage.Get(name).Truthy() {
		return
	}
	settle(ctx, storage.Call(name), func(ctx app.Context, v app.Value) {
		if v.Truthy() {
			answer(ctx, KeptYes)
		} else {
			answer(ctx, KeptNo)
		}
	}, func(ctx app.Context) { answer(ctx, KeptUnknown) })
}

// Deflate compresses a text for an address, where the browser can: the answer is
// in base64 for addresses. packed is false, and the text only coded, where it
// can't.
func Deflate(ctx app.Context, text string, done func(ctx app.Context, coded string, packed bool)) {
	plain := func(ctx app.Context) { done(ctx, base64.RawURLEncoding.EncodeToString([]byte(text)), false) }
	if app.IsServer || !window().Get("CompressionStream").Truthy() {
		plain(ctx)
		return
	}
	piped(ctx, app.Window().Get("Blob").New([]any{text}), "CompressionStream", func(ctx app.Context, data []byte) {
		done(ctx, base64.RawURLEncoding.EncodeToString(data), true)
	}, plain)
}

// Inflate is the way back; failed is called for what Deflate did not make, or
// what is longer than most bytes.
func Inflate(ctx app.Context, coded string, packed bool, most int, done func(ctx app.Context, text string), failed func(app.Context)) {
	data, err := base64.RawURLEncoding.DecodeString(coded)
	switch {
	case err != nil || len(data) > most:
		failed(ctx)
	case !packed:
		done(ctx, string(data))
	case app.IsServer || !window().Get("DecompressionStream").Truthy():
		failed(ctx)
	default:
		bytes := window().Get("Uint8Array").New(len(data))
		app.CopyBytesToJS(bytes, data)
		pieces := window().Get("Array").New()
		pieces.Call("push", bytes)
		piped(ctx, window().Get("Blob").New(pieces), "DecompressionStream", func(ctx app.Context, text []byte) {
			if len(text) > most {
				failed(ctx)
				return
			}
			done(ctx, string(text))
		}, failed)
	}
}

// piped sends a blob through a stream of the browser's.
func piped(ctx app.Context, blob app.Value, stream string, done func(app.Context, []byte), failed func(app.Context)) {
	through := blob.Call("stream").Call("pipeThrough", window().Get(stream).New("deflate-raw"))
	settle(ctx, window().Get("Response").New(through).Call("arrayBuffer"), func(ctx app.Context, buffer app.Value) {
		array := window().Get("Uint8Array").New(buffer)
		data := make([]byte, array.Get("length").Int())
		app.CopyBytesToGo(data, array)
		done(ctx, data)
	}, failed)
}

// Fragment is what follows in the address from the # on.
func Fragment() string {
	if app.IsServer {
		return ""
	}
	return window().Get("location").Get("hash").String()
}

// Origin is the host that the tool was loaded from: "https://example.org".
func Origin() string {
	if app.IsServer {
		return ""
	}
	return window().Get("location").Get("origin").String()
}
