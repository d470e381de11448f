package validate

import (
	"context"
	"encoding/csv"
	"fmt"
	"io/fs"
	"math"
	"strconv"
	"strings"

	"coldbay/sim/bench"
	"coldbay/sim/car"
)

// Ground is what a validation stands on.
type Ground struct {
	Car    *car.Car
	Others []*car.Car    // further cars: what must hold by itself, their cold starts and their circuits
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

// whose says of which cars a station computes rows.
type whose int

const (
	first  whose = iota // the ground's car
	each                // it and the others
	others              // the others: of the first, other rows say more
)

// station computes some rows.
type station struct {
	name  string
	group string
	how   string
	cars  whose
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
		for _, c := range g.of(st.cars) {
			s, at := g.sheet(&st, c)
			if err := st.run(at, s); err != nil {
				return nil, fmt.Errorf("%s: %s: %w", st.name, c.ID, err)
			}
			for _, r := range s.rows {
				if seen[r.ID] {
					return nil, fmt.Errorf("%s: the row %q stands twice", st.name, r.ID)
				}
				seen[r.ID] = true
			}
			rows = append(rows, s.rows...)
		}
	}
	return rows, nil
}

// of lists the cars of a station.
func (g *Ground) of(w whose) (list []*car.Car) {
	if w != others {
		list = append(list, g.Car)
	}
	if w != first {
		list = append(list, g.Others...)
	}
	return list
}

// sheet is an empty sheet of a station for one of the ground's cars, and the ground with that car on it.
func (g *Ground) sheet(st *station, c *car.Car) (*sheet, *Ground) {
	s := &sheet{group: st.group, how: st.how}
	if c == g.Car {
		return s, g
	}
	at := *g
	at.Car, at.layout = c, nil
	letter := strings.TrimPrefix(c.ID, "car_")
	s.prefix, s.label = letter+".", "car "+strings.ToUpper(letter)+": "
	return s, &at
}

func stations() []station {
	var all []station
	for _, list := range [][]station{formulaStations(), circuitStations(), scanStations(), outsideStations(), worldStations(), lawStations(), carStations(),
		benchStations(), faultStations(), otherBenchStations(), tripStations()} {
		all = append(all, list...)
	}
	return all
}
