package dom

import (
	"fmt"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// Storage is the browser's local storage. It outlives the page; a browser that
// blocks it, or has no room left, gives errors and never a panic.
type Storage struct{}

// Get reads a key; ok is false when nothing is kept there.
func (Storage) Get(key string) (value string, ok bool, err error) {
	err = storage(func(s app.Value) {
		if v := s.Call("getItem", key); v.Type() == app.TypeString {
			value, ok = v.String(), true
		}
	})
	return value, ok, err
}

// Set keeps a value under a key.
func (Storage) Set(key, value string) error {
	return storage(func(s app.Value) { s.Call("setItem", key, value) })
}

// Remove forgets a key.
func (Storage) Remove(key string) error {
	return storage(func(s app.Value) { s.Call("removeItem", key) })
}

// Keys lists all keys.
func (Storage) Keys() (keys []string, err error) {
	err = storage(func(s app.Value) {
		for i := range s.Get("length").Int() {
			if k := s.Call("key", i); k.Type() == app.TypeString {
				keys = append(keys, k.String())
			}
		}
	})
	return keys, err
}

// storage calls f with the storage and turns what the browser throws into an error.
func storage(f func(app.Value)) (err error) {
	if app.IsServer {
		return fmt.Errorf("dom: there is no storage outside a browser")
	}
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("dom: local storage: %v", r)
		}
	}()
	s := window().Get("localStorage")
	if !s.Truthy() {
		return fmt.Errorf("dom: the browser has no local storage")
	}
	f(s)
	return nil
}

// Light is how the page is lit: "day", "night", or empty for what the system says.
type Light string

const lightKey = "provingbench.light"

// Lights lists the choices, the system's first.
var Lights = []Light{"", "day", "night"}

// KeptLight is the user's choice of light.
func KeptLight() Light {
	v, _, _ := Storage{}.Get(lightKey)
	if l := Light(v); l == "day" || l == "night" {
		return l
	}
	return ""
}

// SetLight lights the page and keeps the choice; a browser that keeps nothing
// still lights the page.
func SetLight(l Light) {
	if app.IsServer {
		return
	}
	root := document().Get("documentElement")
	if l == "" {
		root.Call("removeAttribute", "data-light")
		_ = Storage{}.Remove(lightKey)
		return
	}
	root.Call("setAttribute", "data-light", string(l))
	_ = Storage{}.Set(lightKey, string(l))
}

// SetValue writes into the field of the given id, in place of what is there.
func SetValue(id, value string) {
	if v, ok := byID(id); ok {
		v.Set("value", value)
	}
}

// Installed reports whether the tool runs as an app of its own and not in a
// browser's tab.
func Installed() bool {
	if app.IsServer {
		return false
	}
	f := window().Get("goappIsAppInstalled")
	return f.Truthy() && window().Call("goappIsAppInstalled").Bool()
}

// Dress gives the page larger targets for gloves, and its text a size: "",
// "large" or "huge".
func Dress(gloves bool, text string) {
	if app.IsServer {
		return
	}
	root := document().Get("documentElement")
	set := func(name, value string) {
		if value == "" {
			root.Call("removeAttribute", name)
			return
		}
		root.Call("setAttribute", name, value)
	}
	set("data-text", text)
	set("data-gloves", map[bool]string{true: "yes"}[gloves])
}
