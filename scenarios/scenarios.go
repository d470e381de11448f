// Package scenarios holds what a school may change without a compiler: cars, work orders and the tariff, as YAML. It embeds
// those that come with the program, reads others from files, and checks all of them before anything is built from them: an order that
// names an unknown fault, unit, suspect or tool is refused with file, line, key and what is allowed.
package scenarios

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"path"
	"sort"
	"strconv"
	"strings"
	"sync"

	"coldbay/sim"
	"coldbay/sim/bench"
	"coldbay/sim/car"
	"coldbay/sim/car/strict"
)

//go:embed cars/*.yaml orders/*.yaml tariff.yaml
var embedded embed.FS

// Library is a set of cars and orders that were read and checked together. It is immutable.
type Library struct {
	cars   map[string]*Car
	orders map[string]*Order
	tariff *bench.Tariff

	ownTariff, ownRubric *Own // a school's; nil: the program's
}

// Car is a car file that was read.
type Car struct {
	File   string // name of the file
	Digest string // sha256 of its bytes, hex
	Car    *car.Car
	Layout *bench.Layout
}

// Order is an order file that was read, with the car that it is about.
type Order struct {
	File   string
	Digest string // sha256 of its bytes, hex
	Order  *bench.Order
	Car    *Car
}

var builtin = sync.OnceValues(func() (*Library, error) { return Open(embedded) })

// Builtin is the library that comes with the program.
func Builtin() (*Library, error) { return builtin() }

// Open reads every car and order of a file system laid out as this folder: cars/*.yaml, orders/*.yaml, tariff.yaml. Nothing is half
// loaded: the first fault ends it.
func Open(fsys fs.FS) (*Library, error) {
	l := &Library{cars: map[string]*Car{}, orders: map[string]*Order{}}
	data, err := read(fsys, "tariff.yaml")
	if err != nil {
		return nil, err
	}
	if l.tariff, err = ParseTariff("tariff.yaml", data); err != nil {
		return nil, err
	}
	if err := each(fsys, "cars", func(name string, data []byte) error {
		c, err := parseCar(name, data)
		if err != nil {
			return err
		}
		if old, ok := l.cars[c.Car.ID]; ok {
			return fmt.Errorf("%s: key \"id\": found %q, which %s has already", name, c.Car.ID, old.File)
		}
		l.cars[c.Car.ID] = c
		return nil
	}); err != nil {
		return nil, err
	}
	if err := each(fsys, "orders", func(name string, data []byte) error {
		o, err := l.ParseOrder(name, data)
		if err != nil {
			return err
		}
		if old, ok := l.orders[o.Order.ID]; ok {
			return fmt.Errorf("%s: key \"id\": found %q, which %s has already", name, o.Order.ID, old.File)
		}
		l.orders[o.Order.ID] = o
		return nil
	}); err != nil {
		return nil, err
	}
	return l, nil
}

func read(fsys fs.FS, name string) ([]byte, error) {
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return bounded(f)
}

// bounded reads at most one byte more than may be parsed, so that the parser can say that it was too much.
func bounded(r io.Reader) ([]byte, error) { return io.ReadAll(io.LimitReader(r, strict.MaxBytes+1)) }

// each hands every YAML file of a folder to f, by name.
func each(fsys fs.FS, dir string, f func(name string, data []byte) error) error {
	list, err := fs.ReadDir(fsys, dir)
	if err != nil {
		return err
	}
	for _, e := range list {
		if e.IsDir() || !strings.HasSuffix(e.Name(), ".yaml") {
			continue
		}
		name := path.Join(dir, e.Name())
		data, err := read(fsys, name)
		if err != nil {
			return err
		}
		if err := f(name, data); err != nil {
			return err
		}
	}
	return nil
}

func parseCar(file string, data []byte) (*Car, error) {
	c, err := car.Parse(file, data)
	if err != nil {
		return nil, err
	}
	lay, err := bench.NewLayout(c)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return &Car{File: file, Digest: digest(data), Car: c, Layout: lay}, nil
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// OrderIDs lists the orders, sorted.
func (l *Library) OrderIDs() []string { return sorted(l.orders) }

// CarIDs lists the cars, sorted.
func (l *Library) CarIDs() []string { return sorted(l.cars) }

func sorted[T any](m map[string]T) []string {
	out := make([]string, 0, len(m))
	for id := range m {
		out = append(out, id)
	}
	sort.Strings(out)
	return out
}

// Load finds an order by id.
func (l *Library) Load(id string) (*Order, error) {
	if o, ok := l.orders[id]; ok {
		return o, nil
	}
	return nil, fmt.Errorf("there is no order %q; %s", id, strict.OneOf(id, l.OrderIDs()))
}

// Car finds a car by id.
func (l *Library) Car(id string) (*Car, error) {
	if c, ok := l.cars[id]; ok {
		return c, nil
	}
	return nil, fmt.Errorf("there is no car %q; %s", id, strict.OneOf(id, l.CarIDs()))
}

// LoadFile reads an order from a file; its car is one of the library's.
func (l *Library) LoadFile(file string) (*Order, error) {
	data, err := readFile(file)
	if err != nil {
		return nil, err
	}
	return l.ParseOrder(file, data)
}

// LoadCarFile reads a car from a file and gives a library that has it in place of one of the same id.
func (l *Library) LoadCarFile(file string) (*Library, *Car, error) {
	data, err := readFile(file)
	if err != nil {
		return nil, nil, err
	}
	c, err := parseCar(file, data)
	if err != nil {
		return nil, nil, err
	}
	out := l.clone()
	out.cars[c.Car.ID] = c
	return out, c, nil
}

// Tariff is what work takes.
func (l *Library) Tariff() *bench.Tariff { return l.tariff }

// Config is what a session on an order is made of. Program is the version of the program, for the attempt's header.
func (l *Library) Config(o *Order, program string) bench.Config {
	c := bench.Config{
		Order: o.Order, Car: o.Car.Car, Layout: o.Car.Layout, Tariff: l.tariff,
		OrderDigest: o.Digest, CarDigest: o.Car.Digest, Program: program, Model: strconv.Itoa(sim.ModelVersion),
	}
	if l.ownTariff != nil {
		c.TariffDigest = l.ownTariff.Digest
	}
	if l.ownRubric != nil {
		c.RubricDigest = l.ownRubric.Digest
	}
	return c
}
