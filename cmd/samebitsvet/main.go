// Samebitsvet is a tool for go vet that refuses what would give a world other bits on another machine: see package samebits.
//
//	go vet -vettool=$(go tool -n samebitsvet) ./...
package main

import (
	"coldbay/cmd/samebitsvet/samebits"

	"golang.org/x/tools/go/analysis/unitchecker"
)

func main() { unitchecker.Main(samebits.Analyzer) }
