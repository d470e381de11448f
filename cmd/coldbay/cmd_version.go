package main

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"

	"coldbay/cmd/coldbay/browserbay"
)

const versionUsage = `Usage: coldbay version [--json]

Shows which build this is: its version, the commit it was made from where the
build recorded one, the Go release and system, and whether it carries the
browser bay ("embedded") or builds it from source ("source").

Options:
  --json   the same as a JSON object: version, commit, go, system, bay

Examples:
  coldbay version
  coldbay version --json
`

func versionCommand() command {
	return command{name: "version", summary: "which build this is", usage: versionUsage, run: runVersion}
}

// buildVersion is set by the linker in a release (see the Makefile).
var buildVersion = ""

type versionInfo struct {
	Version string `json:"version"`
	Commit  string `json:"commit"`
	Go      string `json:"go"`
	System  string `json:"system"`
	Bay     string `json:"bay"`
}

func runVersion(_ context.Context, p *Program, args []string) error {
	flags := newFlags("version")
	asJSON := flags.Bool("json", false, "")
	if err := flags.none(args); err != nil {
		return err
	}
	v := versionOf(buildVersion)
	if *asJSON {
		return p.writeJSON(v)
	}
	commit := ""
	if v.Commit != "" {
		commit = " (" + v.Commit + ")"
	}
	_, err := fmt.Fprintf(p.Stdout, "coldbay %s%s, %s, %s, bay: %s\n", v.Version, commit, v.Go, v.System, v.Bay)
	return err
}

// versionOf describes this build; released is the version set at link time, if any.
func versionOf(released string) versionInfo {
	v := versionInfo{
		Version: released,
		Go:      runtime.Version(),
		System:  runtime.GOOS + "/" + runtime.GOARCH,
		Bay:     "source",
	}
	if browserbay.Embedded() {
		v.Bay = "embedded"
	}
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" {
				v.Commit = s.Value
			}
		}
	}
	if v.Version == "" {
		v.Version = "development"
	}
	return v
}
