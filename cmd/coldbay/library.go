package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"coldbay/scenarios"
)

// order finds a work order: one of the program's own by id, or a file.
func order(name string) (*scenarios.Library, *scenarios.Order, error) {
	lib, err := scenarios.Builtin()
	if err != nil {
		return nil, nil, err
	}
	if strings.HasSuffix(name, ".yaml") || strings.HasSuffix(name, ".yml") {
		o, err := lib.LoadFile(name)
		return lib, o, err
	}
	o, err := lib.Load(name)
	if err != nil {
		err = withHint(err, "coldbay list shows what there is; a file's name ends in .yaml")
	}
	return lib, o, err
}

// existing says whether a file is there and not empty.
func existing(name string) (bool, error) {
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return false, nil
	case err != nil:
		return false, err
	case info.IsDir():
		return false, fmt.Errorf("%s is a folder, not an attempt file", name)
	}
	return info.Size() > 0, nil
}
