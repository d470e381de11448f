package report

// debriefStyles are the rules for the debrief alone.
const debriefStyles = `
@page { margin: ` + pagePad + `; }
.verdict { display: flex; flex-wrap: wrap; gap: .2rem 2rem; align-items: center; border: 2px solid ` + ink + `; padding: .6rem 1rem; margin-top: .8rem; }
.verdict > div { flex: 1 1 20rem; }
.total { margin: 0; font-size: 1.1rem; white-space: nowrap; }
.big { font-size: 3rem; line-height: 1.1; font-weight: bold; }
.state { margin-left: .8rem; font-weight: bold; }
.sign, .key { display: inline-block; vertical-align: -0.15em; }
.tick { fill: none; stroke: ` + blue + `; stroke-width: 3; }
.cross { fill: none; stroke: ` + vermil + `; stroke-width: 3; }
.barcol { width: 210px; }
.bar { margin-top: .1rem; }
.room { fill: ` + white + `; stroke: ` + rule + `; stroke-width: 1; }
.good, .mine { fill: ` + blue + `; stroke: ` + ink + `; stroke-width: 1; }
.bad { fill: ` + vermil + `; stroke: ` + ink + `; stroke-width: 1; }
.badline { stroke: ` + ink + `; stroke-width: 3; stroke-dasharray: 3 2; }
.open, .hatch, .dots { fill: ` + white + `; stroke: ` + ink + `; stroke-width: 1; }
.thread { fill: none; stroke: ` + ink + `; stroke-width: 1; }
.dot { fill: ` + ink + `; }
.axis { fill: none; stroke: ` + ink + `; stroke-width: 1.2; }
.grid { fill: none; stroke: #cccccc; stroke-width: 1; }
.reference { fill: none; stroke: ` + faint + `; stroke-width: 1.5; }
.trace { fill: none; stroke: ` + blue + `; stroke-width: 2.5; }
.cheap { fill: ` + white + `; stroke: ` + blue + `; stroke-width: 2; }
.costly { fill: ` + vermil + `; stroke: ` + ink + `; stroke-width: 1; }
figure { margin: 0; break-inside: avoid; }
figcaption { font-size: .875rem; color: ` + faint + `; }
.chart { width: 100%; max-width: 720px; height: auto; font-size: 13px; }
.chart text { paint-order: stroke; stroke: ` + white + `; stroke-width: 3px; stroke-linejoin: round; }
.did { font-family: "Go Mono", "Liberation Mono", "Courier New", monospace; font-size: .92em; }
.timeline p { margin: 0 0 .25rem; }
.seen { margin: 0 0 .25rem; padding-left: 1.1rem; }
.physics { border-left: 3px solid ` + rule + `; padding-left: .5rem; font-style: italic; }
.cost { border-left: 3px solid ` + vermil + `; padding-left: .5rem; }
.timeline th:nth-child(3) { width: 42%; }
.timeline th:nth-child(4) { width: 31%; }
.tag { display: inline-block; border: 1px solid ` + ink + `; padding: 0 .3rem; font-size: .8em; font-weight: normal; white-space: nowrap; }
.hazards li { font-weight: bold; }
.beside p { margin: 0; }
.parts td, .parts th { border-bottom: 3px solid ` + vermil + `; }
@media print {
  .barcol { width: 42mm; }
  .bar { width: 40mm; height: auto; }
  .did { font-size: 8pt; }
  h2 { margin-top: .9rem; padding-top: .3rem; }
  th, td { padding: .22rem .4rem; }
  .chart { width: 150mm; }
  .verdict { padding: .3rem 1rem; }
  .timeline th:nth-child(4) { width: 33%; }
}
`
