package car

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestCarA(t *testing.T) {
	data, err := os.ReadFile("../../scenarios/cars/car_a.yaml")
	require.NoError(t, err)
	c, err := Parse("car_a.yaml", data)
	require.NoError(t, err)
	t.Log(len(c.Params), "parameters")
}
