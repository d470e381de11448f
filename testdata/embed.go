// Package testdata carries the reference tables and the kept results of other programs, so that a validation can be run from the
// program alone. Each file says in its first lines where its numbers come from.
package testdata

import "embed"

// Files holds reference/*.csv, outside/*.csv and what the programs beside them said of light-off.
//
//go:embed reference/*.csv outside/*.csv outside/car_a.json outside/coldstart/air.csv
var Files embed.FS
