package report_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/sim/bench"
)

// element is one element of a page, as a strict XML parser sees it; our pages are written so that one can read them.
type element struct {
	name string
	attr map[string]string
	text string // its own and that of its children
	up   *element
	kids []*element
}

func parse(t *testing.T, page string) *element {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(page))
	root := &element{name: "document"}
	at := root
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		switch v := token.(type) {
		case xml.StartElement:
			e := &element{name: v.Name.Local, attr: map[string]string{}, up: at}
			for _, a := range v.Attr {
				_, twice := e.attr[a.Name.Local]
				require.False(t, twice, "%s has two attributes %s", e.name, a.Name.Local)
				e.attr[a.Name.Local] = a.Value
			}
			at.kids = append(at.kids, e)
			at = e
		case xml.EndElement:
			at = at.up
		case xml.CharData:
			for e := at; e != nil; e = e.up {
				e.text += string(v)
			}
		}
	}
	require.Same(t, root, at, "every element is closed")
	return root
}

// all are the elements of a name, in the order of the page; "" is every one.
func (e *element) all(name string) []*element {
	var out []*element
	for _, k := range e.kids {
		if name == "" || k.name == name {
			out = append(out, k)
		}
		out = append(out, k.all(name)...)
	}
	return out
}

func (e *element) is(class string) bool {
	for _, c := range strings.Fields(e.attr["class"]) {
		if c == class {
			return true
		}
	}
	return false
}

func (e *element) num(t *testing.T, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.attr[name], 64)
	require.NoError(t, err, "%s of %s", name, e.name)
	return v
}

// pages are all kinds of page, those with hostile names included.
func pages(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{"key": string(sheetOf(t, frozen(t)))}
	for _, name := range attempts {
		out[name] = page(t, debrief(t, name))
	}
	out["hostile"] = page(t, hostileDebrief(t))
	out["hostile key"] = string(sheetOf(t, hostilePlan(t)))
	out["bare"] = page(t, bareDebrief())
	for _, lang := range messages.Languages()[1:] {
		out["key."+lang] = string(sheetIn(t, lang, frozen(t).in(t, lang)))
		out["ground."+lang] = pageIn(t, lang, debrief(t, "ground."+lang))
		out["hostile."+lang] = pageIn(t, lang, hostileDebrief(t))
		out["bare."+lang] = pageIn(t, lang, bareDebrief())
		for _, name := range attempts {
			out[name+"."+lang] = pageIn(t, lang, debrief(t, name))
		}
	}
	return out
}

// The rules of WCAG 2.2 that a test can check, by their numbers: 3.1.1 language, 1.3.1 headings and table headers, 1.1.1
// names of drawings, 4.1.2 ids that resolve. Nothing is loaded from elsewhere, nothing runs, no style attribute is set.
func TestMarkup(t *testing.T) {
	for name, text := range pages(t) {
		t.Run(name, func(t *testing.T) {
			require.True(t, strings.HasPrefix(text, "<!DOCTYPE html>\n"))
			root := parse(t, text)
			lang := "en"
			if at := strings.LastIndexByte(name, '.'); at > 0 {
				lang = name[at+1:]
			}
			require.Equal(t, lang, root.all("html")[0].attr["lang"])
			require.NotRegexp(t, `\[(report|debrief|grade)\.`, text, "a message is missing")
			require.Len(t, root.all("h1"), 1)
			require.NotEmpty(t, strings.TrimSpace(root.all("title")[0].text))
			level := 0
			ids := map[string]bool{}
			for _, e := range root.all("") {
				if len(e.name) == 2 && e.name[0] == 'h' && e.name[1] >= '1' && e.name[1] <= '6' {
					n := int(e.name[1] - '0')
					require.LessOrEqual(t, n, level+1, "heading %q skips a level", e.text)
					level = n
				}
				for _, bad := range []string{"style", "src", "href", "onload", "onclick"} {
					require.NotContains(t, e.attr, bad, e.name)
				}
				require.NotContains(t, []string{"script", "link", "img", "iframe", "object", "form", "a", "foreignObject"}, e.name)
				if id := e.attr["id"]; id != "" {
					require.False(t, ids[id], "id %s twice", id)
					ids[id] = true
				}
			}
			for _, e := range root.all("th") {
				require.Contains(t, []string{"col", "row"}, e.attr["scope"])
			}
			for _, e := range root.all("table") {
				require.NotEmpty(t, e.all("thead"))
			}
			for _, e := range root.all("svg") {
				if e.attr["aria-hidden"] == "true" {
					continue
				}
				require.Equal(t, "img", e.attr["role"])
				if e.attr["aria-label"] != "" {
					continue
				}
				require.NotEmpty(t, e.kids[0].text, "title")
				require.Equal(t, "title", e.kids[0].name)
				require.Equal(t, "desc", e.kids[1].name)
				require.NotEmpty(t, e.kids[1].text, "desc")
				for _, id := range strings.Fields(e.attr["aria-labelledby"]) {
					require.True(t, ids[id], "no element has the id %s", id)
				}
			}
			for _, m := range regexp.MustCompile(`url\(#([^)]*)\)`).FindAllStringSubmatch(text, -1) {
				require.True(t, ids[m[1]], m[0])
			}
			require.NotRegexp(t, `url\([^#]`, text)
			require.NotContains(t, text, "@import")
			require.NotContains(t, text, "ZgotmplZ", "html/template refused a value")
		})
	}
}

// number is a decimal number in a text; P0491 and the like are words.
var number = regexp.MustCompile(`−?\b\d+(?:[.:]\d+)?\b`)

// strangers are the numbers of a debrief's page that its findings don't hold.
func strangers(t *testing.T, text string, known map[string]bool) []string {
	t.Helper()
	var out []string
	var walk func(e *element)
	walk = func(e *element) {
		if e.name == "style" || e.is("scale") { // ticks of an axis are no findings
			return
		}
		if len(e.kids) == 0 {
			for _, n := range number.FindAllString(e.text, -1) {
				if !known[n] {
					out = append(out, n+" in "+e.text)
				}
			}
			return
		}
		rest := e.text
		for _, k := range e.kids {
			rest = strings.Replace(rest, k.text, " ", 1)
			walk(k)
		}
		for _, n := range number.FindAllString(rest, -1) {
			if !known[n] {
				out = append(out, n+" in "+rest)
			}
		}
	}
	walk(parse(t, text).all("body")[0])
	return out
}

// numbersIn are the numbers that a debrief holds, in every way that a page may write them.
func numbersIn(t *testing.T, v any) map[string]bool {
	t.Helper()
	known := map[string]bool{"0": true, "1": true, "100": true} // the ends of the scales of marks and severity
	data, err := json.Marshal(v)
	require.NoError(t, err)
	var tree any
	require.NoError(t, json.Unmarshal(data, &tree))
	var walk func(key string, v any)
	walk = func(key string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, x := range v {
				walk(k, x)
			}
		case []any:
			known[fmt.Sprint(len(v))] = true
			for _, x := range v {
				walk(key, x)
			}
		case string:
			for _, n := range number.FindAllString(v, -1) {
				known[n] = true
			}
		case float64:
			tenth := func(f float64) string {
				return strings.Replace(strings.Replace(strconv.FormatFloat(f, 'f', 1, 64), "-0.0", "0.0", 1), "-", "−", 1)
			}
			switch key {
			case "seconds":
				known[tenth(v/60)] = true
				known[fmt.Sprintf("%d:%02d", int(v)/60, int(v)%60)] = true
			case "cents", "billCents":
				known[fmt.Sprintf("%.2f", v/100)] = true
			case "total", "score", "weight", "seq", "steps", "parLeft":
				known[fmt.Sprint(v)] = true
			case "severity":
				known[fmt.Sprint(math.Round(v*100)/100)] = true
			case "luckMinutes": // written as what rounding leaves over
				for _, around := range []float64{v, v - 0.1, v + 0.1} {
					known[strings.TrimPrefix(tenth(around), "−")] = true
				}
			default:
				known[tenth(v)] = true
			}
		}
	}
	walk("", tree)
	return known
}

// A second try says so, at the head of the page, and from where.
func TestRetakeIsSaid(t *testing.T) {
	d := debrief(t, "good")
	require.NotContains(t, page(t, d), "do not count as a first attempt")
	d.Retake = &bench.Retake{After: 7}
	require.Contains(t, parse(t, page(t, d)).all("header")[0].text, "Tried again from line 7:")
	require.Contains(t, parse(t, pageIn(t, "de", d)).all("header")[0].text, "Noch einmal ab Zeile 7:")
	d.Retake.After = 0
	require.Contains(t, parse(t, page(t, d)).all("header")[0].text, "Tried again from the start")
}

// What a report says itself is said in its language: nothing of the English pages' own words is left on another.
func TestNoEnglishLeft(t *testing.T) {
	en, err := messages.Load("en")
	require.NoError(t, err)
	for _, lang := range messages.Languages()[1:] {
		text := pageIn(t, lang, bareDebrief())
		for _, key := range en.Keys() {
			s := en.T(key)
			if strings.HasPrefix(key, "report.") && len(s) > 11 && !strings.Contains(s, "{") && !strings.Contains(s, "*") {
				require.NotContains(t, text, ">"+s+"<", "%s: %s", lang, key)
			}
		}
	}
}

func TestNoNumberOfItsOwn(t *testing.T) {
	for _, name := range attempts {
		d := debrief(t, name)
		text := page(t, d)
		require.Empty(t, strangers(t, text, numbersIn(t, d)), name)
		d.Choices += 1234
		require.NotEmpty(t, strangers(t, page(t, d), numbersIn(t, debrief(t, name))), "a number from elsewhere is noticed")
	}
}

func TestTimelineIsCSV(t *testing.T) {
	d := hostileDebrief(t)
	var b bytes.Buffer
	rows := readTimeline(t, &b, d)
	require.Len(t, rows, len(d.Steps)+1)
	for _, row := range rows[1:] {
		require.Len(t, row, len(rows[0]))
		for _, text := range []int{3, 4, 5, 6, 8, 12} {
			if row[text] != "" {
				require.NotContains(t, "=+-@\t\r", row[text][:1], "a spreadsheet would take %q for a formula", row[text])
			}
		}
	}
}
