package scenarios_test

import (
	"os"
	"strings"
	"testing"

	"coldbay/scenarios"

	"github.com/stretchr/testify/require"
)

// The board begins with the order that the lessons lead to and ends with the one that has everything on it.
func TestByLevel(t *testing.T) {
	lib := builtin(t)
	var ids []string
	last := scenarios.Level(1)
	for _, o := range lib.ByLevel() {
		ids = append(ids, o.Order.ID)
		require.GreaterOrEqual(t, o.Level(), last, o.Order.ID)
		require.LessOrEqual(t, o.Level(), scenarios.Hardest, o.Order.ID)
		last = o.Level()
	}
	require.Equal(t, []string{"cold_whisper", "half_a_breath", "quiet_pump", "second_pump", "left_bank", "burnt_hose", "whole_board"}, ids)
	require.ElementsMatch(t, lib.OrderIDs(), ids)
	require.Equal(t, scenarios.Hardest, last)
}

// Whatever is wrong with the car, its order is as hard as the card says.
func TestLevelGivesNothingAway(t *testing.T) {
	lib := builtin(t)
	data, err := os.ReadFile("orders/second_pump.yaml")
	require.NoError(t, err)
	order, err := lib.Load("second_pump")
	require.NoError(t, err)
	const truth = "truth: {fault: inlet_off_worn_pump, severity: 0.9, draw: 37}"
	require.Contains(t, string(data), truth)
	for _, id := range order.Order.Suspects {
		other, err := lib.ParseOrder("other.yaml", []byte(strings.Replace(string(data), truth, "truth: {fault: "+id+", draw: 37}", 1)))
		require.NoError(t, err, id)
		require.Equal(t, order.Level(), other.Level(), id)
	}
}

// More to do, less to lean on, more to keep in mind: each makes an order harder.
func TestLevel(t *testing.T) {
	lib := builtin(t)
	data, err := os.ReadFile("orders/cold_whisper.yaml")
	require.NoError(t, err)
	level := func(old, new string) scenarios.Level {
		t.Helper()
		require.Contains(t, string(data), old)
		o, err := lib.ParseOrder("other.yaml", []byte(strings.Replace(string(data), old, new, 1)))
		require.NoError(t, err)
		return o.Level()
	}
	require.Equal(t, scenarios.Level(1), level("minutes: 60", "minutes: 60"))
	require.Equal(t, scenarios.Level(2), level("minutes: 60", "minutes: 61"))
	require.Equal(t, scenarios.Level(2), level("minutes: 60", "minutes: 60\nwithheld: [scan]"))
	require.Equal(t, scenarios.Level(3), level("minutes: 60", "minutes: 75\nwithheld: [scan]"))
	i, j := strings.Index(string(data), "suspects:"), strings.Index(string(data), "shifts:")
	require.Equal(t, scenarios.Level(3), level(string(data[i:j]), ""))
}
