//go:build js

package platform

import (
	"context"
	"fmt"
	"strconv"
	"syscall/js"
)

// Claim takes an attempt for this tab, so that no second one writes it meanwhile: until release is called or the page is gone, however it
// goes. ErrElsewhere when another tab has it. Browsers give pages the locks for that on this machine and over HTTPS. Elsewhere the tab that
// claims last has the attempt, and one that had it before is refused its next Append with ErrElsewhere, which keeps the log whole as well.
func Claim(ctx context.Context, name string) (release func(), err error) {
	locks := js.Global().Get("navigator").Get("locks")
	if !locks.Truthy() {
		return fence(name)
	}
	answer := make(chan error, 2)
	var let js.Value // ends the promise for whose life the browser keeps the lock
	hold := js.FuncOf(func(_ js.Value, args []js.Value) any {
		let = args[0]
		return nil
	})
	given := js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) == 0 || !args[0].Truthy() {
			answer <- ErrElsewhere
			return nil
		}
		held := js.Global().Get("Promise").New(hold)
		answer <- nil
		return held
	})
	failed := js.FuncOf(func(_ js.Value, args []js.Value) any {
		why := "no reason given"
		if len(args) > 0 {
			why = args[0].Call("toString").String()
		}
		answer <- fmt.Errorf("claim attempt %s: %s", name, why)
		return nil
	})
	// The callbacks stay as long as the page: the browser may call them after this returns, and an order is not opened often.
	options := js.Global().Get("Object").New()
	options.Set("ifAvailable", true)
	request, err := call(locks, "request", prefix+name, options, given)
	if err != nil {
		return nil, err
	}
	request.Call("catch", failed)
	select {
	case err = <-answer:
	case <-ctx.Done():
		go func() {
			if <-answer == nil {
				let.Invoke()
			}
		}()
		return nil, ctx.Err()
	}
	if err != nil {
		return nil, err
	}
	return func() { let.Invoke() }, nil
}

const fencePrefix = "coldbay/open/"

// fence writes a mark into this tab's own store and into the one that all tabs share, where another tab would write its own.
func fence(name string) (func(), error) {
	shared, err := store()
	if err != nil {
		return nil, err
	}
	own := js.Global().Get("sessionStorage")
	mark := strconv.FormatFloat(js.Global().Get("Math").Call("random").Float(), 'g', -1, 64)
	for _, s := range []js.Value{own, shared} {
		if _, err := call(s, "setItem", fencePrefix+name, mark); err != nil {
			return nil, err
		}
	}
	return func() { _, _ = call(own, "removeItem", fencePrefix+name) }, nil // what is left behind fences nobody
}

// fenced refuses to write an attempt that another tab has claimed after this one.
func fenced(shared js.Value, name string) error {
	own, err := call(js.Global().Get("sessionStorage"), "getItem", fencePrefix+name)
	if err != nil || own.Type() != js.TypeString {
		return nil // not claimed by a mark
	}
	if v, err := call(shared, "getItem", fencePrefix+name); err == nil && v.Type() == js.TypeString && v.String() != own.String() {
		return fmt.Errorf("attempt %s: %w", name, ErrElsewhere)
	}
	return nil
}
