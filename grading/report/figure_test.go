package report_test

import (
	"bytes"
	"fmt"
	"html"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/grading/report"
)

// What a line cost, and what of it counts, is the same two figures in the timeline, among the costs and in the table for a spreadsheet;
// how many suspects the plan would have left stands beside those that were left.
func TestOneFigureForALine(t *testing.T) {
	told := 0
	for _, name := range attempts {
		d := debrief(t, name)
		text := page(t, d)
		var b bytes.Buffer
		rows := readTimeline(t, &b, d)
		for i, s := range d.Steps {
			row := rows[i+1]
			require.Equal(t, s.Graded, row[10] != "", name)
			require.Equal(t, s.Graded && s.ParLeft >= 0, row[13] != "", name)
			if !s.Graded {
				continue
			}
			require.Equal(t, strconv.FormatFloat(s.Charged, 'f', 3, 64), row[11], name)
			require.Equal(t, strconv.Itoa(s.ParLeft), row[13], name)
			require.Contains(t, text, fmt.Sprintf(`<td class="num">%d</td></tr>`, s.ParLeft), "%s line %d", name, s.Seq)
			if s.Counts() {
				told++
				require.Contains(t, text, fmt.Sprintf("On average %.1f minutes longer than the best step; %.1f of them count.", s.Cost, s.Charged), "%s line %d", name, s.Seq)
				require.Contains(t, text, fmt.Sprintf(`<td class="num">%.1f</td><td class="num"><strong>%.1f</strong></td>`, s.Cost, s.Charged), "%s line %d", name, s.Seq)
			}
		}
	}
	require.Greater(t, told, 5)
}

// The account is written as a sum, and it adds up as it is written; page and prompt have the same.
func TestAccountIsASum(t *testing.T) {
	msg, err := messages.Load("en")
	require.NoError(t, err)
	for _, name := range attempts {
		d := debrief(t, name)
		d.ToDo = 2.34
		d.Luck = d.Counted + d.ToDo - d.Par.Minutes - d.Choices
		says := report.Account(msg, d)
		require.Contains(t, html.UnescapeString(page(t, d)), says)
		sum := 0
		for i, n := range number.FindAllString(strings.NewReplacer("− ", "-", "+ ", "").Replace(says[strings.Index(says, "par "):]), -1) {
			tenths, err := strconv.Atoi(strings.Replace(n, ".", "", 1))
			require.NoError(t, err)
			if i > 0 && strings.Contains(says, map[int]string{1: "− choices", 2: "− good luck"}[i]) {
				tenths = -tenths
			}
			sum += tenths
		}
		a := d.Account()
		require.Equal(t, fmt.Sprintf("%.1f", float64(sum)/10), fmt.Sprintf("%.1f", a.Counted+a.ToDo), says)
	}
}
