package main

import (
	"coldbay/grading/score"
	"coldbay/scenarios"
)

// schoolOptions explains in a usage text what [flags.school] offers.
const schoolOptions = `  --school DIR   the files of a school: rubric.yaml, tariff.yaml and orders/*.yaml in
                 the folder DIR, each of which may be missing
  --rubric FILE  mark by this rubric
  --tariff FILE  reckon with these times and prices ("coldbay new" writes both)
`

// school are the options that put a school's files in place of the program's.
type school struct{ dir, rubric, tariff *string }

// school adds the options --school, --rubric and --tariff.
func (f flags) school() school {
	return school{dir: f.String("school", "", ""), rubric: f.String("rubric", "", ""), tariff: f.String("tariff", "", "")}
}

// library is the program's, with the school's files. A file given by itself comes before the folder's.
func (s school) library() (*scenarios.Library, error) {
	lib, err := scenarios.Builtin()
	if err != nil {
		return nil, err
	}
	rubric := func(file string, data []byte) error {
		_, err := score.ParseRubric(file, data)
		return err
	}
	if *s.dir != "" {
		if lib, err = lib.WithSchool(*s.dir, rubric); err != nil {
			return nil, err
		}
	}
	if *s.rubric != "" {
		if lib, err = lib.WithRubric(*s.rubric, rubric); err != nil {
			return nil, err
		}
	}
	if *s.tariff != "" {
		lib, err = lib.WithTariff(*s.tariff)
	}
	return lib, err
}

// order finds a work order: one of the program's or the school's by id, or a file.
func (s school) order(name string) (*scenarios.Library, *scenarios.Order, error) {
	lib, err := s.library()
	if err != nil {
		return nil, nil, err
	}
	o, err := orderIn(lib, name)
	return lib, o, err
}
