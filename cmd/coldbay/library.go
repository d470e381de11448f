package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"coldbay/scenarios"
)

// orderIn finds a work order: one of a library's by id, or a file.
func orderIn(lib *scenarios.Library, name string) (*scenarios.Order, error) {
	if strings.HasSuffix(name, ".yaml") || strings.HasSuffix(name, ".yml") {
		return lib.LoadFile(name)
	}
	o, err := lib.Load(name)
	if err != nil {
		err = withHint(err, "coldbay list shows what there is; a file's name ends in .yaml")
	}
	return o, err
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
