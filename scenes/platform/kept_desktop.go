//go:build !js

package platform

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

const keptSuffix = ".json"

func keptPath(key string) (string, error) {
	if key == "" || strings.ContainsAny(key, `/\:`) || strings.HasPrefix(key, ".") {
		return "", fmt.Errorf("key %q: want a plain name", key)
	}
	dir, err := folder()
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, key+keptSuffix), nil
}

// Keep keeps a small value under a key, in one step: either the old or the new one is on the disk.
func Keep(key string, data []byte) error {
	path, err := keptPath(key)
	if err != nil {
		return err
	}
	if err := os.WriteFile(path+".new", data, 0o644); err != nil {
		return fmt.Errorf("keep %s: %w", key, err)
	}
	return os.Rename(path+".new", path)
}

// Kept reads what was kept under a key; ErrNotKept when there is nothing.
func Kept(key string) ([]byte, error) {
	path, err := keptPath(key)
	if err != nil {
		return nil, err
	}
	raw, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, ErrNotKept
	}
	return raw, err
}
