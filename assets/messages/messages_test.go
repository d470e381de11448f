package messages_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
)

// inTemplate is a message that a report's template asks for.
var inTemplate = regexp.MustCompile(`\{\{(?:t|rich) "([^"]+)"`)

// built are the beginnings of keys that code puts together from an id; what follows is checked by the screens' tests, which
// find a missing message by its brackets.
func used(t *testing.T) (whole map[string]bool, begun []string) {
	t.Helper()
	whole = map[string]bool{}
	for _, root := range []string{".", "../../scenes", "../../cmd", "../../grading", "../../sim/bench/phrase"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || root == "." && strings.HasSuffix(path, "_test.go") || !strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, ".html") {
				return err
			}
			src, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			if strings.HasSuffix(path, ".html") {
				for _, m := range inTemplate.FindAllStringSubmatch(string(src), -1) {
					whole[m[1]] = true
				}
				return nil
			}
			f, err := parser.ParseFile(token.NewFileSet(), path, src, 0)
			if err != nil {
				return err
			}
			ast.Inspect(f, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.CallExpr:
					sel, ok := n.Fun.(*ast.SelectorExpr)
					if !ok || sel.Sel.Name != "T" && sel.Sel.Name != "Or" && sel.Sel.Name != "N" || len(n.Args) == 0 {
						return true
					}
					for i, arg := range n.Args {
						if i > 0 && sel.Sel.Name != "Or" || i > 1 {
							break
						}
						switch a := arg.(type) {
						case *ast.BasicLit:
							if s, err := strconv.Unquote(a.Value); err == nil && sel.Sel.Name == "N" {
								whole[s+".one"], whole[s+".other"] = true, true
							} else if err == nil {
								whole[s] = true
							}
						case *ast.BinaryExpr:
							if s := leading(a); s != "" {
								begun = append(begun, s)
							}
						}
					}
				case *ast.BasicLit:
					// Keys are also kept in tables and variables.
					if s, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING {
						begun = append(begun, s)
					}
				}
				return true
			})
			return nil
		})
		require.NoError(t, err)
	}
	return whole, begun
}

func leading(e ast.Expr) string {
	for {
		b, ok := e.(*ast.BinaryExpr)
		if !ok {
			break
		}
		e = b.X
	}
	if lit, ok := e.(*ast.BasicLit); ok {
		if s, err := strconv.Unquote(lit.Value); err == nil {
			return s
		}
	}
	return ""
}

func TestEveryKeyUsedHasAMessage(t *testing.T) {
	c, err := messages.Load("en")
	require.NoError(t, err)
	whole, _ := used(t)
	require.Greater(t, len(whole), 80)
	for k := range whole {
		require.True(t, c.Has(k), "no message for %q", k)
	}
}

// A message that nothing asks for is a mistake in its key or left behind.
func TestEveryMessageIsUsed(t *testing.T) {
	c, err := messages.Load("en")
	require.NoError(t, err)
	whole, begun := used(t)
	for _, k := range c.Keys() {
		ok := whole[k]
		for _, b := range begun {
			if ok {
				break
			}
			ok = b == k || len(b) > 2 && strings.HasSuffix(b, ".") && strings.HasPrefix(k, b)
		}
		require.True(t, ok, "message %q is not used", k)
	}
}

func TestFillsPlaces(t *testing.T) {
	c, err := messages.Load("en")
	require.NoError(t, err)
	require.Equal(t, "2 of 5", c.T("page.of", "n", "2", "of", "5"))
	require.Equal(t, "[no.such.key]", c.T("no.such.key"))
	require.Equal(t, "x", c.Or("no.such.key", "phrase.id", "id", "x"))
	_, err = messages.Load("xx")
	require.ErrorContains(t, err, "xx")
}

// No message leaves a place unfilled because of a misspelt brace.
func TestBracesArePaired(t *testing.T) {
	c, err := messages.Load("en")
	require.NoError(t, err)
	for _, k := range c.Keys() {
		s := c.T(k)
		require.Equal(t, strings.Count(s, "{"), strings.Count(s, "}"), k)
		require.NotEmpty(t, strings.TrimSpace(s), k)
	}
}

func count(list []string, s string) int {
	n := 0
	for _, x := range list {
		if x == s {
			n++
		}
	}
	return n
}

var place = regexp.MustCompile(`\{[a-z]+\}`)

// Every language says everything, with the same places to fill in.
func TestLanguagesAgree(t *testing.T) {
	en, err := messages.Load("en")
	require.NoError(t, err)
	require.Equal(t, []string{"en", "de", "es"}, messages.Languages())
	for _, lang := range messages.Languages()[1:] {
		c, err := messages.Load(lang)
		require.NoError(t, err)
		require.Equal(t, lang, c.Lang())
		require.Equal(t, en.Keys(), c.Keys(), lang)
		same := 0
		for _, k := range en.Keys() {
			want, got := place.FindAllString(en.T(k), -1), place.FindAllString(c.T(k), -1)
			if strings.HasPrefix(k, "refusal.") { // an id is for the prompt, which is English; it may be left out
				got = append(got, slices.Repeat([]string{"{id}"}, max(0, count(want, "{id}")-count(got, "{id}")))...)
			}
			slices.Sort(want)
			slices.Sort(got)
			require.Equal(t, want, got, "%s: %s", lang, k)
			if c.T(k) == en.T(k) {
				same++
			}
		}
		require.Less(t, same, len(en.Keys())/5, "%s says too much in English", lang)
	}
}

// Numbers come with a point and are shown with the language's mark; points that end sentences, and those between letters, stay.
func TestDecimalMark(t *testing.T) {
	for lang, want := range map[string]string{
		"en": "12.64 V at -0.5 degC, v1. Then 3.",
		"de": "12,64 V at -0,5 degC, v1. Then 3.",
		"es": "12,64 V at -0,5 degC, v1. Then 3.",
	} {
		c, err := messages.Load(lang)
		require.NoError(t, err)
		require.Equal(t, want, c.Decimal("12.64 V at -0.5 degC, v1. Then 3."), lang)
	}
}
