package scantool

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSplit(t *testing.T) {
	for line, want := range map[string][2]string{
		"Engine coolant temperature  10 °C":    {"Engine coolant temperature", "10 °C"},
		"Fuel system 1 status  Closed loop":    {"Fuel system 1 status", "Closed loop"},
		"secondary air  not complete":          {"secondary air", "not complete"},
		"P0491  Insufficient Flow (Bank 1)":    {"P0491  Insufficient Flow (Bank 1)", ""},
		"stored codes":                         {"stored codes", ""},
		"pump: accepted":                       {"pump: accepted", ""},
		"Commanded equivalence ratio  1":       {"Commanded equivalence ratio", "1"},
		"Long term fuel trim bank 1  -3.125 %": {"Long term fuel trim bank 1", "-3.125 %"},
	} {
		name, value := split(line)
		require.Equal(t, want, [2]string{name, value}, line)
	}
}
