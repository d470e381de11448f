package validate

import (
	"context"
	"encoding/csv"
	"fmt"
	"io/fs"
	"math"
	"strconv"

	"coldbay/sim/bench"
	"coldbay/sim/car"
)

// Ground is what a validation stands on.
type Ground struct {
	Car    *car.Car
	Tariff *bench.Tariff // what work at the bench takes
	Tables fs.FS         // reference/*.csv and outside/*.csv

	layout *bench.Layout
}

// prepare finds what of the car can be reached at the bench.
func (g *Ground) prepare() (err error) {
	g.layout, err = bench.NewLayout(g.Car)
	return err
}

// table is a CSV file with a head line, comments after #.
type table struct {
	name string
	head map[string]int
	rows [][]string
}

func (g *Ground) table(name string) (*table, error) {
	f, err := g.Tables.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(all) < 2 {
		return nil, fmt.Errorf("%s: no rows", name)
	}
	t := &table{name: name, head: map[string]int{}, rows: all[1:]}
	for i, h := range all[0] {
		t.head[h] = i
	}
	return t, nil
}

// text is a cell; the row and the column must be there.
func (t *table) text(row int, column string) string {
	i, ok := t.head[column]
	if !ok || row < 0 || row >= len(t.rows) {
		return ""
	}
	return t.rows[row][i]
}

// num is a cell as a number, NaN when it is none.
func (t *table) num(row int, column string) float64 {
	v, err := strconv.ParseFloat(t.text(row, column), 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// find is the row whose columns hold the given texts, or -1.
func (t *table) find(pairs ...string) int {
	for i := range t.rows {
		ok := true
		for k := 0; k+1 < len(pairs); k += 2 {
			ok = ok && t.text(i, pairs[k]) == pairs[k+1]
		}
		if ok {
			return i
		}
	}
	return -1
}

// at is a number in the row that the pairs find.
func (t *table) at(column string, pairs ...string) float64 { return t.num(t.find(pairs...), column) }

// station computes some rows.
type station struct {
	name  string
	group string
	how   string
	once  bool   // says nothing about the numbers of the car file, or takes too long to be asked for each of them
	only  string // asked again only for changes of the car file below this path; "": for all
	run   func(*Ground, *sheet) error
}

// Progress is told what is being done; done counts from 0.
type Progress func(what string, done, all int)

// Run computes every row for a car.
func Run(ctx context.Context, g Ground, tell Progress) ([]Row, error) {
	if err := g.prepare(); err != nil {
		return nil, err
	}
	var rows []Row
	list := stations()
	seen := map[string]bool{}
	for i, st := range list {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if tell != nil {
			tell(st.name, i, len(list))
		}
		s := sheet{group: st.group, how: st.how}
		if err := st.run(&g, &s); err != nil {
			return nil, fmt.Errorf("%s: %w", st.name, err)
		}
		for _, r := range s.rows {
			if seen[r.ID] {
				return nil, fmt.Errorf("%s: the row %q stands twice", st.name, r.ID)
			}
			seen[r.ID] = true
		}
		rows = append(rows, s.rows...)
	}
	return rows, nil
}

func stations() []station {
	var all []station
	for _, list := range [][]station{formulaStations(), circuitStations(), scanStations(), outsideStations(), worldStations(), lawStations(),
		benchStations(), faultStations(), tripStations()} {
		all = append(all, list...)
	}
	return all
}
