package scenarios

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

func FuzzParseTariff(f *testing.F) {
	data, err := os.ReadFile("tariff.yaml")
	require.NoError(f, err)
	f.Add(data)
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := ParseTariff("f", data)
		if (p == nil) == (err == nil) {
			t.Fatal("a tariff or an error, not both and not neither")
		}
	})
}

// value finds what an order or a car says after a colon, in a line of its own or between braces.
var value = regexp.MustCompile(`: [^ ,{}\[\]\n][^,{}\n]*`)

// FuzzOrderValue puts any text in the place of any value of any order that comes with the program: it stays an order, or is refused.
func FuzzOrderValue(f *testing.F) {
	lib, err := Builtin()
	require.NoError(f, err)
	files, err := filepath.Glob("orders/*.yaml")
	require.NoError(f, err)
	var texts []string
	for i, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(f, err)
		texts = append(texts, string(data))
		for at, text := range []string{"1e300", "-1", ".nan", "\"\"", "[]", "{a: b}", "car_b", "~"} {
			f.Add(uint8(i), uint16(at*7), text)
		}
	}
	f.Fuzz(func(t *testing.T, which uint8, at uint16, text string) {
		whole := texts[int(which)%len(texts)]
		places := value.FindAllStringIndex(whole, -1)
		p := places[int(at)%len(places)]
		o, err := lib.ParseOrder("f", []byte(whole[:p[0]]+": "+text+whole[p[1]:]))
		if (o == nil) == (err == nil) {
			t.Fatal("an order or an error, not both and not neither")
		}
	})
}
