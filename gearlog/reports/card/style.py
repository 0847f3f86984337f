"""How the HTML card looks: black on white, one narrow sans serif, room to write in; both papers, any printer."""

STYLE = """
@page { margin: 10mm 12mm; }
* { box-sizing: border-box; }
html { background: white; color: black; }
body { font: 8.5pt/1.28 'DejaVu Sans Condensed', 'Liberation Sans Narrow', 'Arial Narrow', Arial, Helvetica, sans-serif;
  max-width: 186mm; margin: 0 auto; overflow-wrap: anywhere; }
@media screen { body { padding: 8mm 4mm; } }
header { border-bottom: 1.2pt solid black; padding-bottom: 1.5mm; margin-bottom: 2mm; }
header p { margin: 0; }
h1 { font-size: 17pt; line-height: 1.15; margin: 0; }
h2 { font-size: 10.5pt; margin: 0 0 0.8mm; border-bottom: 0.5pt solid black; break-after: avoid; }
.lead { font-size: 11pt; }
section { margin: 0 0 1.6mm; }
.stop { border: 3pt solid black; padding: 2mm 4mm; }
.stop h2 { font-size: 40pt; line-height: 1; letter-spacing: 0.08em; border: 0; }
.stop p { font-size: 12pt; font-weight: bold; margin: 1mm 0; }
dl { margin: 0; columns: 2; column-gap: 6mm; }
dl div { break-inside: avoid; display: flex; gap: 2mm; padding: 0.3mm 0; }
dt { flex: 0 0 38%; }
dt::after { content: ":"; }
dd { margin: 0; flex: 1; font-weight: bold; }
.line { border-bottom: 0.5pt solid black; min-height: 6mm; }
table { width: 100%; border-collapse: collapse; table-layout: fixed; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
th, td { text-align: left; vertical-align: top; padding: 0.6mm 1.5mm; border-bottom: 0.4pt solid black; }
th { font-weight: normal; font-style: italic; }
.number { text-align: right; white-space: nowrap; }
td.number, td.strong { font-weight: bold; }
td.blank { height: 7mm; border: 0.4pt solid black; }
.narrow { display: inline-block; width: 49%; vertical-align: top; }
.narrow + .narrow { margin-left: 1.5%; }
.box { display: inline-block; width: 3mm; height: 3mm; border: 0.7pt solid black; vertical-align: -0.4mm; }
.note { margin: 0.8mm 0 0; }
ul, ol { margin: 0; padding-left: 6mm; }
li { break-inside: avoid; padding: 0.3mm 0; }
.ticked .box { margin-right: 2mm; }
svg { display: block; width: 100%; height: auto; break-inside: avoid; }
footer { border-top: 0.5pt solid black; break-inside: avoid; }
footer p { margin: 0.5mm 0 0; }
dl.sign { columns: 1; display: flex; gap: 4mm; }
.sign div { flex: 1; display: block; }
.picture h2, .unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
@media print {
  body { font-size: 7.5pt; line-height: 1.22; }
  h1 { font-size: 15pt; }
  h2 { font-size: 9pt; margin-bottom: 0.4mm; }
  .lead { font-size: 9.5pt; }
  section { margin-bottom: 1.1mm; }
  th, td { padding: 0.4mm 1.2mm; }
  td.blank { height: 6mm; }
  li, dl div { padding: 0.1mm 0; }
  svg { width: 86%; margin: 0 auto; }
}
"""
