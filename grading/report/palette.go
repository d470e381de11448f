package report

// The colours of a page: the palette of Okabe and Ito ("Color Universal Design", 2008; its values from memory), of which only
// those are used that stand out from white paper on their own, and three greys. Colour never tells anything alone: each shape has
// its own outline or pattern, and its number beside it.
const (
	white   = "#ffffff"
	ink     = "#1a1a1a" // text
	faint   = "#595959" // secondary text
	rule    = "#8c8c8c" // lines that separate
	blue    = "#0072b2" // what went well, and the trainee's own path
	vermil  = "#d55e00" // what cost
	panel   = "#f2f2f2" // behind headings of tables; may be left out in print
	pagePad = "14mm"
)

// styles are the rules that both kinds of page share. Sizes in print are points, so that paper of any size shows the same text.
const styles = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }
body { margin: 0 auto; padding: 1.2rem; max-width: 62rem; background: ` + white + `; color: ` + ink + `;
  font: 1rem/1.45 Go, "Liberation Sans", Arial, Helvetica, sans-serif; overflow-wrap: break-word; }
h1 { font-size: 1.7rem; line-height: 1.2; margin: 0 0 .3rem; }
h2 { font-size: 1.2rem; line-height: 1.25; margin: 2rem 0 .5rem; padding-top: .5rem; border-top: 2px solid ` + ink + `; break-after: avoid; }
h3 { font-size: 1rem; margin: 1rem 0 .3rem; break-after: avoid; }
p { margin: .35rem 0; max-width: 46rem; }
ul, ol { margin: .3rem 0; padding-left: 1.4rem; }
li { margin: .15rem 0; break-inside: avoid; }
.faint { color: ` + faint + `; }
.small { font-size: .875rem; }
.num { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
.nowrap { white-space: nowrap; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-size: .9rem; line-height: 1.35; }
caption { text-align: left; padding: .2rem 0; color: ` + faint + `; }
th, td { text-align: left; vertical-align: top; padding: .35rem .5rem; border-bottom: 1px solid ` + rule + `; font-weight: normal; }
thead th { font-weight: bold; background: ` + panel + `; border-bottom: 2px solid ` + ink + `; vertical-align: bottom; }
tbody th { font-weight: bold; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
th.num, td.num { text-align: right; }
svg { display: block; }
svg text { font-family: Go, "Liberation Sans", Arial, Helvetica, sans-serif; fill: ` + ink + `; }
footer, .caution { border: 2px solid ` + ink + `; padding: .5rem .8rem; margin: 1.5rem 0 0; break-inside: avoid; }
footer p, .caution p { max-width: none; }
@media print {
  html { font-size: 9.5pt; }
  body { max-width: none; padding: 0; }
  p { max-width: none; }
  section > p.faint { break-after: avoid; }
  h1 { font-size: 16pt; } h2 { font-size: 12pt; } h3 { font-size: 10pt; }
  table { font-size: 8.5pt; }
  .scroll { overflow: visible; }
}
`
