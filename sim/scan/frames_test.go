package scan

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFrames(t *testing.T) {
	f, err := Frames(bytesOf(t, "41 05 3C"))
	require.NoError(t, err)
	require.Equal(t, [][8]byte{{0x03, 0x41, 0x05, 0x3C}}, f)
	// The vehicle's number: 20 bytes in three frames.
	f, err = Frames(append(bytesOf(t, "49 02 01"), "CBTRA1N0ACAR00001"...))
	require.NoError(t, err)
	require.Equal(t, [][8]byte{
		{0x10, 0x14, 0x49, 0x02, 0x01, 'C', 'B', 'T'},
		{0x21, 'R', 'A', '1', 'N', '0', 'A', 'C'},
		{0x22, 'A', 'R', '0', '0', '0', '0', '1'}}, f)
	for n := 1; n <= maxMessage; n++ {
		if n > 200 && n < maxMessage-20 {
			continue
		}
		m := make([]byte, n)
		for i := range m {
			m[i] = byte(i*7 + n)
		}
		f, err := Frames(m)
		require.NoError(t, err)
		back, err := Join(f)
		require.NoError(t, err)
		require.Equal(t, m, back)
	}
	for _, n := range []int{0, maxMessage + 1} {
		_, err := Frames(make([]byte, n))
		require.ErrorIs(t, err, ErrMessage)
	}
}

func TestJoinErrors(t *testing.T) {
	for _, bad := range [][][8]byte{
		nil, {{0x00}}, {{0x08, 1}}, {{0x30}}, {{0x21}}, {{0x03, 1}, {0x21}}, {{0x10, 0x07}}, {{0x10, 0x14}}, {{0x10, 0x14}, {0x21}}, {{0x10, 0x14}, {0x21}, {0x23}},
		{{0x10, 0x14}, {0x21}, {0x22}, {0x23}},
	} {
		_, err := Join(bad)
		require.ErrorIs(t, err, ErrMessage, "%X", bad)
	}
}

func TestRoutine(t *testing.T) {
	q := RoutineRequest{StartRoutine, RoutineBoth}
	require.Equal(t, bytesOf(t, "31 01 0A 03"), q.Bytes())
	back, err := ParseRoutine(q.Bytes())
	require.NoError(t, err)
	require.Equal(t, q, back)
	a := RoutineReply{RoutineResults, RoutinePump, true, true}
	require.Equal(t, bytesOf(t, "71 03 0A 01 03"), a.Bytes())
	b, refused, err := ParseRoutineReply(a.Bytes())
	require.NoError(t, err)
	require.Zero(t, refused)
	require.Equal(t, a, b)
	_, refused, err = ParseRoutineReply(bytesOf(t, "7F 31 22"))
	require.NoError(t, err)
	require.Equal(t, ConditionsNotCorrect, refused)
	for _, bad := range []string{"", "31", "31 00 0A 01", "31 04 0A 01", "32 01 0A 01", "31 01 0A 01 00"} {
		_, err := ParseRoutine(bytesOf(t, bad))
		require.ErrorIs(t, err, ErrMessage, bad)
	}
	for _, bad := range []string{"", "71 01 0A 01", "71 05 0A 01 00", "71 01 0A 01 04", "7F 31 00", "7F 04 22"} {
		_, _, err := ParseRoutineReply(bytesOf(t, bad))
		require.ErrorIs(t, err, ErrMessage, bad)
	}
}
