package report

import (
	"crypto/sha256"
	"encoding/base64"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/grading/score"
)

// luminance is the relative luminance of WCAG 2.2.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[1+2*i:3+2*i], 16, 8)
		require.NoError(t, err)
		v := float64(n) / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		sum += weight * v
	}
	return sum
}

// contrast is the contrast ratio of WCAG 2.2.
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	la, lb := luminance(t, a), luminance(t, b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// Text has a contrast of 4.5, shapes 3 at least (WCAG 2.2, 1.4.3 and 1.4.11). Black on white is 21, its definition's own example.
func TestContrast(t *testing.T) {
	require.InDelta(t, 21, contrast(t, "#000000", white), 1e-9)
	for _, text := range []string{ink, faint, blue} {
		for _, ground := range []string{white, panel} {
			require.GreaterOrEqual(t, contrast(t, text, ground), 4.5, "%s on %s", text, ground)
		}
	}
	for _, shape := range []string{blue, vermil, rule, ink, faint} {
		require.GreaterOrEqual(t, contrast(t, shape, white), 3.0, "%s on white", shape)
	}
	// No other colour is used but that of the grid, which carries nothing.
	for _, c := range regexp.MustCompile(`#[0-9a-f]{6}`).FindAllString(styles+debriefStyles+keyStyles, -1) {
		require.Contains(t, []string{white, ink, faint, rule, blue, vermil, panel, "#cccccc"}, c)
	}
}

func TestPolicyAllowsTheStyleOnly(t *testing.T) {
	var b strings.Builder
	require.NoError(t, Debrief(&b, nil, &score.Debrief{Title: "x"}))
	style := regexp.MustCompile(`(?s)<style>(.*?)</style>`).FindAllStringSubmatch(b.String(), -1)
	require.Len(t, style, 1)
	sum := sha256.Sum256([]byte(style[0][1]))
	require.Contains(t, strings.ReplaceAll(b.String(), "&#43;", "+"), "default-src &#39;none&#39;; style-src &#39;sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"&#39;;")
}

// What the page's ruler measures is never less than what wider common fonts need.
func TestWrapFits(t *testing.T) {
	r, err := newRuler()
	require.NoError(t, err)
	for _, text := range []string{"a plain sentence of some words", strings.Repeat("w", 300), "漢字漢字漢字漢字漢字漢字", "x", "", "\xff\xfe broken \xff"} {
		lines := r.wrap(text, keyText, 80, true)
		for _, l := range lines {
			require.True(t, r.width(l, keyText, true) <= 80 || len([]rune(l)) == 1, l)
		}
		require.Equal(t, strings.Join(strings.Fields(text), ""), strings.ReplaceAll(strings.Join(lines, ""), " ", ""), "nothing is lost")
		for _, l := range r.most(lines, 2, keyText, 80, true) {
			require.LessOrEqual(t, r.width(l, keyText, true), 80.0)
		}
	}
}
