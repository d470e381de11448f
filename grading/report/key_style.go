package report

// keyStyles are the rules for the key sheet alone.
const keyStyles = `
@page { size: landscape; margin: 10mm; }
body { max-width: 66rem; }
h2 { margin-top: 1.2rem; }
.lead { columns: 2; margin-bottom: .8rem; column-gap: 2rem; font-size: .9rem; }
.lead p { margin: 0 0 .3rem; break-inside: avoid; }
.sheet { margin: 0; }
.tree { width: 100%; max-width: 979px; height: auto; font-size: 10.5px; }
.way { fill: none; stroke: ` + faint + `; stroke-width: 1.2; }
.card { fill: ` + white + `; stroke: ` + faint + `; stroke-width: 1; }
.ends { fill: ` + white + `; stroke: ` + ink + `; stroke-width: 1.6; }
.side { fill: ` + ink + `; }
.rule { fill: none; stroke: ` + rule + `; stroke-width: .8; stroke-dasharray: 2 2; }
.head { font-weight: bold; fill: ` + blue + `; }
.do, .on { font-weight: bold; }
.left { fill: ` + faint + `; }
.words ul { list-style: none; padding-left: 1rem; border-left: 1px solid ` + rule + `; }
.words > ul { padding-left: 0; border-left: 0; }
.words li { margin: .4rem 0; break-inside: auto; }
.words p { margin: .1rem 0; max-width: none; }
@media print {
  body { max-width: none; }
  .sheet { break-after: page; }
  .tree { width: 259mm; max-width: 100%; }
  h2 { margin-top: 0; }
  .lead { font-size: 8pt; }
  .words { font-size: 8.5pt; }
}
`
