package main

import (
	"bytes"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/require"
)

func TestProgress(t *testing.T) {
	tests := []struct {
		name     string
		terminal bool
		takes    time.Duration
		want     string
	}{
		{"quick", true, 900 * time.Millisecond, ""},
		{"slow", true, 2500 * time.Millisecond, "\rbuilding … 1 s\rbuilding … 2 s\r\x1b[K"},
		{"slow, into a file", false, 2500 * time.Millisecond, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				var out bytes.Buffer
				p := Program{Stderr: &out, Terminal: tt.terminal}
				done := p.progress("building")
				time.Sleep(tt.takes) // the bubble's clock, not the wall's
				done()
				require.Equal(t, tt.want, out.String())
			})
		})
	}
}
