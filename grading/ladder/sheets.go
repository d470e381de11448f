package ladder

import (
	"errors"
	"io/fs"

	"coldbay/grading/dictionary"
	"coldbay/scenarios"
	"coldbay/sim/bench"
)

// SheetsFor are the trade's sheets that come with the program for an order's car and can be done with the tools that the order allows;
// none for a car without.
func SheetsFor(order *bench.Order) ([]Sheet, error) {
	file, data, err := scenarios.TradeFile(order.Car)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	name, text, err := scenarios.ProceduresFile(order.Car)
	if err != nil {
		return nil, err
	}
	procs, err := dictionary.Parse(name, text)
	if err != nil {
		return nil, err
	}
	t, err := ParseTrade(file, data, procs)
	if err != nil {
		return nil, err
	}
	return t.For(order.Allows(bench.ToolScan)), nil
}
