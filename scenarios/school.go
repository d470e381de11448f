package scenarios

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Own is a file of a school's that stands in place of one of the program's.
type Own struct {
	File   string // its name
	Digest string // sha256 of its bytes, hex
	data   []byte
}

// clone is a library that can be given other files; what it holds is shared.
func (l *Library) clone() *Library {
	out := *l
	out.cars, out.orders = maps.Clone(l.cars), maps.Clone(l.orders)
	return &out
}

func readFile(file string) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := bounded(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return data, nil
}

// WithTariff is the library with the tariff of a file. A file that is the program's own word for word changes nothing.
func (l *Library) WithTariff(file string) (*Library, error) {
	data, err := readFile(file)
	if err != nil {
		return nil, err
	}
	t, err := ParseTariff(file, data)
	if err != nil {
		return nil, err
	}
	own, err := read(embedded, "tariff.yaml")
	if err != nil {
		return nil, err
	}
	out := l.clone()
	out.tariff, out.ownTariff = t, &Own{File: file, Digest: digest(data), data: data}
	if digest(own) == digest(data) {
		out.ownTariff = nil
	}
	return out, nil
}

// WithRubric is the library with the rubric of a file, which check, the grader's, has to find good. A file that is the program's own
// word for word changes nothing.
func (l *Library) WithRubric(file string, check func(file string, data []byte) error) (*Library, error) {
	data, err := readFile(file)
	if err != nil {
		return nil, err
	}
	if err := check(file, data); err != nil {
		return nil, err
	}
	_, own, err := RubricFile()
	if err != nil {
		return nil, err
	}
	out := l.clone()
	out.ownRubric = &Own{File: file, Digest: digest(data), data: data}
	if digest(own) == digest(data) {
		out.ownRubric = nil
	}
	return out, nil
}

// The names in a school's folder.
const (
	schoolTariff = "tariff.yaml"
	schoolRubric = "rubric.yaml"
	schoolOrders = "orders"
)

// WithSchool is the library with what a school's folder holds: tariff.yaml, rubric.yaml and orders/*.yaml, each of which may be missing. An
// order that bears the id of one of the program's takes its place. A folder with none of them, and YAML files of other names, are refused:
// a slip in a name would go unnoticed. Check is as in WithRubric.
func (l *Library) WithSchool(dir string, check func(file string, data []byte) error) (*Library, error) {
	list, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	out, found := l, false
	for _, e := range list {
		path := filepath.Join(dir, e.Name())
		switch name := e.Name(); {
		case name == schoolTariff:
			out, err = out.WithTariff(path)
		case name == schoolRubric:
			out, err = out.WithRubric(path, check)
		case name == schoolOrders && e.IsDir():
			out, err = out.withOrders(path)
		case strings.HasSuffix(name, ".yaml") || strings.HasSuffix(name, ".yml"):
			return nil, fmt.Errorf("%s: a school's folder holds %s, %s and %s%c*.yaml; this is none of them", path, schoolTariff, schoolRubric, schoolOrders, filepath.Separator)
		default:
			continue
		}
		if err != nil {
			return nil, err
		}
		found = true
	}
	if !found {
		return nil, fmt.Errorf("%s: a school's folder holds %s, %s or %s%c*.yaml; here is none of them", dir, schoolTariff, schoolRubric, schoolOrders, filepath.Separator)
	}
	return out, nil
}

// withOrders adds the orders of a folder.
func (l *Library) withOrders(dir string) (*Library, error) {
	out, files := l.clone(), map[string]string{}
	err := each(os.DirFS(dir), ".", func(name string, data []byte) error {
		file := filepath.Join(dir, name)
		o, err := out.ParseOrder(file, data)
		if err != nil {
			return err
		}
		id := o.Order.ID
		if old, ok := files[id]; ok {
			return fmt.Errorf("%s: key \"id\": found %q, which %s has already", file, id, old)
		}
		files[id], out.orders[id] = file, o
		return nil
	})
	return out, err
}

// OwnTariff is the school's tariff file; nil when it is the program's.
func (l *Library) OwnTariff() *Own { return l.ownTariff }

// OwnRubric is the school's rubric file; nil when it is the program's.
func (l *Library) OwnRubric() *Own { return l.ownRubric }

// Rubric is the file that attempts are marked by, a school's or the program's; the grader parses it.
func (l *Library) Rubric() (name string, data []byte, err error) {
	if l.ownRubric != nil {
		return l.ownRubric.File, l.ownRubric.data, nil
	}
	return RubricFile()
}

// Shipped says whether an order, its car and the tariff are the program's own, so that what was built from them and comes with the
// program holds for it.
func (l *Library) Shipped(o *Order) bool {
	own, err := Builtin()
	if err != nil || l.ownTariff != nil {
		return false
	}
	s, ok := own.orders[o.Order.ID]
	return ok && s.Digest == o.Digest && s.Car.Digest == o.Car.Digest
}

// StartFile is the commented file that a school begins its own with: of kind "rubric" or "tariff", the program's own.
func StartFile(kind string) ([]byte, error) {
	switch kind {
	case "rubric":
		_, data, err := RubricFile()
		return data, err
	case "tariff":
		return read(embedded, "tariff.yaml")
	}
	return nil, fmt.Errorf("there is no starting file of kind %q; there are: %s", kind, strings.Join(StartKinds(), ", "))
}

// StartKinds are the kinds of [StartFile].
func StartKinds() []string { return slices.Clone(startKinds) }

var startKinds = []string{"rubric", "tariff"}
