//go:build !js && !windows && !darwin && !android && !ios

package start

import (
	"fmt"
	"os"
	"slices"

	"coldbay/cmd/bay/start/display"
)

func init() {
	fault := display.Lacking(os.Getenv("DISPLAY"), display.Reach)
	if fault == nil {
		return
	}
	if slices.ContainsFunc(os.Args[1:], func(s string) bool { return s == "-h" || s == "-help" || s == "--help" || s == "--h" }) {
		fmt.Fprint(os.Stderr, Usage)
		os.Exit(0)
	}
	fmt.Fprintln(os.Stderr, "bay:", fault)
	os.Exit(1)
}
