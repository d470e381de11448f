package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"

	"github.com/stretchr/testify/require"
)

// axeVersion is the version of the accessibility checker axe-core that .ci/checker fetches.
const axeVersion = "4.14.1"

// axeRules are the success criteria that the page is held to: WCAG 2.1, levels A and AA.
const axeRules = `["wcag2a", "wcag2aa", "wcag21a", "wcag21aa"]`

// axe holds the page as it stands against the checker's rules. It says once in the log where the checker is missing.
type axe struct {
	*browser
	script string
}

// newAxe reads the checker, or gives nil and says why.
func newAxe(b *browser) *axe {
	b.t.Helper()
	cache, err := os.UserCacheDir()
	if err == nil {
		script, err := os.ReadFile(filepath.Join(cache, "coldbay", "axe-core-"+axeVersion, "axe.min.js"))
		if err == nil {
			return &axe{b, string(script)}
		}
	}
	b.t.Logf("not checked with axe-core %s: it is not here; .ci/checker fetches it", axeVersion)
	return nil
}

// violation is one rule that the page breaks.
type violation struct {
	ID    string `json:"id"`
	Help  string `json:"help"`
	Nodes []struct {
		HTML    string `json:"html"`
		Summary string `json:"failureSummary"`
	} `json:"nodes"`
}

// check fails the test for every rule that the page breaks.
func (a *axe) check(where string) {
	if a == nil {
		return
	}
	a.t.Helper()
	if !eval[bool](a.browser, `typeof axe === "object"`) {
		eval[bool](a.browser, a.script+"\n;true")
	}
	found := eval[string](a.browser, `axe.run(document, {runOnly: {type: "tag", values: `+axeRules+`}}).then((r) => JSON.stringify({
		violations: r.violations, passes: r.passes.length, unsure: r.incomplete.map((i) => i.id)}))`)
	var result struct {
		Violations []violation `json:"violations"`
		Passes     int         `json:"passes"`
		Unsure     []string    `json:"unsure"`
	}
	require.NoError(a.t, json.Unmarshal([]byte(found), &result))
	require.Greater(a.t, result.Passes, 8, "%s: the checker looked at next to nothing", where)
	if len(result.Unsure) > 0 {
		a.t.Logf("%s: axe-core could not tell: %s", where, strings.Join(result.Unsure, ", "))
	}
	for _, v := range result.Violations {
		for _, n := range v.Nodes {
			a.t.Errorf("%s: %s: %s\n%s\n%s", where, v.ID, v.Help, n.HTML, n.Summary)
		}
	}
}
