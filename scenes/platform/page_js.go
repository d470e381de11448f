//go:build js

package platform

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
	"sync"
	"syscall/js"
	"time"
)

const prefix = "coldbay/attempt/"

func store() (v js.Value, err error) {
	// Reading localStorage throws where the browser forbids it.
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the browser keeps no local storage for this page: %v", r)
		}
	}()
	v = js.Global().Get("localStorage")
	if !v.Truthy() {
		return v, fmt.Errorf("the browser keeps no local storage for this page")
	}
	return v, nil
}

func call(v js.Value, method string, args ...any) (out js.Value, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("local storage: %v", r)
		}
	}()
	return v.Call(method, args...), nil
}

// Append adds data to the end of an attempt, which begins when it is not there. Every piece is a key of its own, so
// that a long attempt costs no more per action than a short one. ErrElsewhere where another tab has claimed the attempt.
func Append(name string, data []byte) error {
	s, err := store()
	if err != nil {
		return err
	}
	if err := fenced(s, name); err != nil {
		return err
	}
	n := 0
	if v, err := call(s, "getItem", prefix+name); err == nil && v.Type() == js.TypeString {
		n, _ = strconv.Atoi(v.String())
	}
	if _, err := call(s, "setItem", prefix+name+"/"+strconv.Itoa(n), string(data)); err != nil {
		return err
	}
	_, err = call(s, "setItem", prefix+name, strconv.Itoa(n+1))
	return err
}

// Add is Append to something that several tabs may add to at once, each whole pieces. Tabs run apart and see what the others store a little later, so
// that two which count pieces can come to the same number. A piece of Add has a key that no other tab can choose, and Load reads such
// pieces after those of Append, in the order of the machine's clock.
func Add(name string, data []byte) error {
	s, err := store()
	if err != nil {
		return err
	}
	added++
	key := fmt.Sprintf("%s%s%s%013d-%06d-%s", prefix, name, loose, time.Now().UnixMilli(), added, ownMark())
	_, err = call(s, "setItem", key, string(data))
	return err
}

// loose begins the key of a piece of Add after its name.
const loose = "/+"

var added int // pieces of Add by this page: those of one millisecond in their order

// ownMark tells this page's pieces from those of every other one.
var ownMark = sync.OnceValue(func() string {
	return strconv.FormatFloat(js.Global().Get("Math").Call("random").Float(), 'g', -1, 64)
})

// looseOf lists the keys of the pieces of Add, sorted.
func looseOf(s js.Value, name string) ([]string, error) {
	keys, err := call(js.Global().Get("Object"), "keys", s)
	if err != nil {
		return nil, err
	}
	var out []string
	for k := range strings.Lines(keys.Call("join", "\n").String()) {
		if k = strings.TrimSuffix(k, "\n"); strings.HasPrefix(k, prefix+name+loose) {
			out = append(out, k)
		}
	}
	sort.Strings(out)
	return out, nil
}

// Replace writes an attempt whole.
func Replace(name string, data []byte) error {
	if err := remove(name); err != nil {
		return err
	}
	return Append(name, data)
}

// Load reads an attempt; ErrNoAttempt when there is none.
func Load(name string) ([]byte, error) {
	s, err := store()
	if err != nil {
		return nil, err
	}
	v, err := call(s, "getItem", prefix+name)
	if err != nil {
		return nil, err
	}
	more, err := looseOf(s, name)
	if err != nil {
		return nil, err
	}
	n := 0
	switch {
	case v.Type() == js.TypeString:
		if n, err = strconv.Atoi(v.String()); err != nil {
			return nil, fmt.Errorf("load attempt %s: %w", name, err)
		}
	case len(more) == 0:
		return nil, ErrNoAttempt
	}
	var keys []string
	for i := range n {
		keys = append(keys, prefix+name+"/"+strconv.Itoa(i))
	}
	var out []byte
	for _, key := range append(keys, more...) {
		if v, err := call(s, "getItem", key); err == nil && v.Type() == js.TypeString {
			out = append(out, v.String()...)
		}
	}
	return out, nil
}

// List names the saved attempts, sorted; what has pieces of Add alone is none.
func List() ([]string, error) {
	s, err := store()
	if err != nil {
		return nil, err
	}
	var out []string
	for i := range s.Get("length").Int() {
		k, err := call(s, "key", i)
		if err != nil {
			return nil, err
		}
		if n, ok := strings.CutPrefix(k.String(), prefix); ok && !strings.Contains(n, "/") {
			out = append(out, n)
		}
	}
	sort.Strings(out)
	return out, nil
}

// MoveAside gives an attempt another name, so that a damaged or finished one is kept and out of the way. An attempt that had
// the new name is replaced.
func MoveAside(name, to string) error {
	raw, err := Load(name)
	if err != nil {
		return err
	}
	if err := remove(to); err != nil {
		return err
	}
	if err := Append(to, raw); err != nil {
		return err
	}
	return remove(name)
}

func remove(name string) error {
	s, err := store()
	if err != nil {
		return err
	}
	keys, err := looseOf(s, name)
	if err != nil {
		return err
	}
	v, err := call(s, "getItem", prefix+name)
	if err != nil {
		return err
	}
	if v.Type() == js.TypeString {
		n, _ := strconv.Atoi(v.String())
		for i := range n {
			keys = append(keys, prefix+name+"/"+strconv.Itoa(i))
		}
		keys = append(keys, prefix+name)
	}
	for _, key := range keys {
		if _, err := call(s, "removeItem", key); err != nil {
			return err
		}
	}
	return nil
}

// Query is a parameter of the page's address, empty when it is not there.
func Query(key string) string {
	v := js.Global().Get("URLSearchParams").New(js.Global().Get("location").Get("search")).Call("get", key)
	if v.Type() != js.TypeString {
		return ""
	}
	return v.String()
}

// Address keeps in the page's address what is open, so that the page loaded anew, or the address handed on, opens it again. Both are
// ids; empty is nothing.
func Address(order, lesson string) {
	location := js.Global().Get("location")
	query := js.Global().Get("URLSearchParams").New(location.Get("search"))
	for key, id := range map[string]string{"order": order, "lesson": lesson} {
		if id == "" {
			query.Call("delete", key)
		} else {
			query.Call("set", key, id)
		}
	}
	address := location.Get("pathname").String()
	if s := query.Call("toString").String(); s != "" {
		address += "?" + s
	}
	js.Global().Get("history").Call("replaceState", js.Null(), "", address)
}

// ReducedMotion follows the browser's setting.
func ReducedMotion() bool {
	m := js.Global().Get("matchMedia")
	return m.Truthy() && js.Global().Call("matchMedia", "(prefers-reduced-motion: reduce)").Get("matches").Bool()
}

// Open shows an address in a new tab.
func Open(path string) error {
	js.Global().Call("open", path, "_blank", "noopener")
	return nil
}
