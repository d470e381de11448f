//go:build js

// A stand-in for the bay in the tests of the page around it: no engine, only what
// the page and the bay say to each other. The query tells it what to do.
package main

import (
	"fmt"
	"os"
	"strings"
	"syscall/js"
)

func main() {
	query := js.Global().Get("location").Get("search").String()
	mirror := js.Global().Get("document").Call("getElementById", "mirror")
	mirror.Set("textContent", "up, asked for "+query)
	fmt.Println("shellbay says hello")
	switch {
	case strings.Contains(query, "end=panic"):
		panic("on purpose")
	case strings.Contains(query, "end=code"):
		os.Exit(3)
	case strings.Contains(query, "end=well"):
		return
	}
	select {}
}
