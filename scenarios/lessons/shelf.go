package lessons

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"coldbay/scenarios"
	"coldbay/sim/car/strict"
	"coldbay/sim/cutaway"
)

//go:embed *.yaml schematics/*.yaml
var embedded embed.FS

// Shelf is a set of lessons with the schematics that they show. It is immutable.
type Shelf struct {
	Lessons []*Lesson // by number
	sheets  map[string]*cutaway.Schematic
}

var builtin = sync.OnceValues(func() (*Shelf, error) {
	lib, err := scenarios.Builtin()
	if err != nil {
		return nil, err
	}
	return Open(embedded, lib)
})

// Builtin is the shelf that comes with the program.
func Builtin() (*Shelf, error) { return builtin() }

// Open reads every lesson and schematic of a file system laid out as this folder. Nothing is half loaded: the first fault ends it.
func Open(fsys fs.FS, lib *scenarios.Library) (*Shelf, error) {
	s := &Shelf{sheets: map[string]*cutaway.Schematic{}}
	if err := each(fsys, "schematics", func(name string, data []byte) error {
		id := strings.TrimSuffix(path.Base(name), ".yaml")
		c, err := lib.Car(id)
		if err != nil {
			return fmt.Errorf("%s: a schematic has the name of its car: %w", name, err)
		}
		sheet, err := cutaway.ParseSchematic(name, data, c.Car)
		s.sheets[id] = sheet
		return err
	}); err != nil {
		return nil, err
	}
	if err := each(fsys, ".", func(name string, data []byte) error {
		l, err := Parse(name, data, s.find)
		if err != nil {
			return err
		}
		for _, old := range s.Lessons {
			if old.ID == l.ID || old.Number == l.Number {
				return fmt.Errorf("%s: lesson %d %q: %s has that id or number already", name, l.Number, l.ID, old.File)
			}
		}
		s.Lessons = append(s.Lessons, l)
		return nil
	}); err != nil {
		return nil, err
	}
	slices.SortFunc(s.Lessons, func(a, b *Lesson) int { return a.Number - b.Number })
	return s, nil
}

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
		info, err := e.Info()
		if err != nil {
			return err
		}
		if info.Size() > strict.MaxBytes {
			return fmt.Errorf("%s: %d bytes long; at most %d are allowed", name, info.Size(), strict.MaxBytes)
		}
		data, err := fs.ReadFile(fsys, name)
		if err != nil {
			return err
		}
		if err := f(name, data); err != nil {
			return err
		}
	}
	return nil
}

func (s *Shelf) find(car string) (*cutaway.Schematic, []string) { return s.sheets[car], s.Cars() }

// Cars lists the cars that have a schematic, sorted.
func (s *Shelf) Cars() []string {
	var out []string
	for id := range s.sheets {
		out = append(out, id)
	}
	slices.Sort(out)
	return out
}

// Sheet is the schematic of a car.
func (s *Shelf) Sheet(car string) (*cutaway.Schematic, bool) {
	x, ok := s.sheets[car]
	return x, ok
}

// IDs lists the lessons in their order.
func (s *Shelf) IDs() []string {
	var out []string
	for _, l := range s.Lessons {
		out = append(out, l.ID)
	}
	return out
}

// Find finds a lesson by id, or says which there are.
func (s *Shelf) Find(id string) (*Lesson, error) {
	for _, l := range s.Lessons {
		if l.ID == id {
			return l, nil
		}
	}
	return nil, fmt.Errorf("there is no lesson %q; %s", id, strict.OneOf(id, s.IDs()))
}
