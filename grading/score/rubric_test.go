package score

import (
	"os"
	"strings"
	"testing"

	"coldbay/scenarios"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
)

func rubric(t *testing.T) string {
	t.Helper()
	_, data, err := scenarios.RubricFile()
	require.NoError(t, err)
	return string(data)
}

// holds says whether a rubric keeps to the schema that is given to instructors (JSON Schema, draft 2020-12).
func holds(t *testing.T, schema *jsonschema.Schema, text string) bool {
	t.Helper()
	var v any
	require.NoError(t, yaml.Unmarshal([]byte(text), &v))
	return schema.Validate(v) == nil
}

func rubricSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	f, err := os.Open("../../testdata/schema/rubric.schema.json")
	require.NoError(t, err)
	defer f.Close()
	doc, err := jsonschema.UnmarshalJSON(f)
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("rubric.schema.json", doc))
	s, err := c.Compile("rubric.schema.json")
	require.NoError(t, err)
	return s
}

// The rubric that comes with the program is right by its schema and by its reader; what one of them refuses for its form, the other does.
func TestRubricAndItsSchema(t *testing.T) {
	schema, good := rubricSchema(t), rubric(t)
	require.True(t, holds(t, schema, good))
	r, err := ParseRubric("rubric.yaml", []byte(good))
	require.NoError(t, err)
	require.Equal(t, 10, r.Points.Prediction)
	for was, is := range map[string]string{
		"coldbay-rubric/1":        "coldbay-rubric/2",
		"prediction: 10":          "prediction: 21",
		", prediction: 10":        ", prediction: -1",
		" prediction: 10,":        "",
		"wrong_part: 80":          "wrong_part: 101",
		"unverified: 70":          "unverified: seventy",
		"pass: 60":                "",
		"economy: 30":             "economy: 30, style: 0",
		"unproven: 40":            "unproven: 101",
		"minor_risk: 25":          "minor_risk: -1",
		"pass: 60\n":              "pass: 160\n",
		"economy: 30, evidence":   "economy: -10, evidence",
		"points: {unproven: 40, ": "points: {",
	} {
		bad := strings.Replace(good, was, is, 1)
		require.NotEqual(t, good, bad, was)
		require.False(t, holds(t, schema, bad), "%q for %q passes the schema", is, was)
		_, err := ParseRubric("rubric.yaml", []byte(bad))
		require.Error(t, err, "%q for %q is read", is, was)
		require.Contains(t, err.Error(), "rubric.yaml:")
	}
	_, err = ParseRubric("rubric.yaml", []byte(strings.Replace(good, "prediction: 10", "prediction: 21", 1)))
	require.ErrorContains(t, err, "points.prediction")
	require.ErrorContains(t, err, "found 21, allowed is 0 to 20")
}

// Sums are beyond a schema; the reader refuses them.
func TestRubricSums(t *testing.T) {
	schema, good := rubricSchema(t), rubric(t)
	for was, is := range map[string]string{"economy: 30": "economy: 31", "proof: 10": "proof: 11"} {
		bad := strings.Replace(good, was, is, 1)
		require.True(t, holds(t, schema, bad))
		_, err := ParseRubric("rubric.yaml", []byte(bad))
		require.ErrorContains(t, err, "add up to 101")
	}
}
