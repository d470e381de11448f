//go:build !js

package platform

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sort"
	"strings"
)

const suffix = ".attempt.jsonl"

func folder() (string, error) {
	base, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("find the place for attempts: %w", err)
	}
	dir := filepath.Join(base, "coldbay")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return "", fmt.Errorf("make the place for attempts: %w", err)
	}
	return dir, nil
}

func pathOf(name string) (string, error) {
	if name == "" || strings.ContainsAny(name, `/\:`) || strings.HasPrefix(name, ".") {
		return "", fmt.Errorf("attempt name %q: want a plain name", name)
	}
	dir, err := folder()
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, name+suffix), nil
}

// Append adds data to the end of an attempt, which begins when it is not there, and returns once it is on the disk.
func Append(name string, data []byte) (err error) {
	path, err := pathOf(name)
	if err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		return fmt.Errorf("save attempt %s: %w", name, err)
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	if _, err := f.Write(data); err != nil {
		return fmt.Errorf("save attempt %s: %w", name, err)
	}
	return f.Sync()
}

// Add is Append to something that several windows may add to at once, each whole pieces: the system sets each piece behind what is there when it
// is written, so none is lost and none torn. That does not hold for a folder on a network disk.
func Add(name string, data []byte) error { return Append(name, data) }

// Replace writes an attempt whole, in one step: either the old or the new one is on the disk.
func Replace(name string, data []byte) error {
	path, err := pathOf(name)
	if err != nil {
		return err
	}
	if err := os.WriteFile(path+".new", data, 0o644); err != nil {
		return fmt.Errorf("save attempt %s: %w", name, err)
	}
	return os.Rename(path+".new", path)
}

// Load reads an attempt; ErrNoAttempt when there is none.
func Load(name string) ([]byte, error) {
	path, err := pathOf(name)
	if err != nil {
		return nil, err
	}
	raw, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, ErrNoAttempt
	}
	return raw, err
}

// List names the saved attempts, sorted.
func List() ([]string, error) {
	dir, err := folder()
	if err != nil {
		return nil, err
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("list attempts: %w", err)
	}
	var out []string
	for _, e := range entries {
		if n, ok := strings.CutSuffix(e.Name(), suffix); ok {
			out = append(out, n)
		}
	}
	sort.Strings(out)
	return out, nil
}

// MoveAside gives an attempt another name, so that a damaged or finished one is kept and out of the way. An attempt that had
// the new name is replaced. ErrNoAttempt when there is none.
func MoveAside(name, to string) error {
	a, err := pathOf(name)
	if err != nil {
		return err
	}
	b, err := pathOf(to)
	if err != nil {
		return err
	}
	if err := os.Rename(a, b); err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return ErrNoAttempt
		}
		return fmt.Errorf("move attempt %s aside: %w", name, err)
	}
	return nil
}

// Mirror does nothing on the desktop.
func Mirror(Page) {}

// Say does nothing on the desktop.
func Say(string) {}

// Events gives nothing on the desktop.
func Events() []Event { return nil }

// LeaveCanvas does nothing on the desktop.
func LeaveCanvas() {}

// Query is empty on the desktop.
func Query(string) string { return "" }

// Address does nothing on the desktop.
func Address(string, string) {}

// ReducedMotion follows the environment variable COLDBAY_STILL.
func ReducedMotion() bool { return os.Getenv("COLDBAY_STILL") != "" }

// Open shows a path or address with the system's opener.
func Open(path string) error {
	var cmd *exec.Cmd
	switch runtime.GOOS {
	case "windows":
		cmd = exec.Command("rundll32", "url.dll,FileProtocolHandler", path)
	case "darwin":
		cmd = exec.Command("open", path)
	default:
		cmd = exec.Command("xdg-open", path)
	}
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("open %s: %w", path, err)
	}
	go func() { _ = cmd.Wait() }() // only to let the system forget the process
	return nil
}
