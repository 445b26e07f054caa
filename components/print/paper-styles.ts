import { css } from "lit";

/**
 * Black on white, sized in points: this is read from paper, on A4 and on Letter, and written on with a pencil. Lines stand in
 * two columns; what needs the width of the page goes across both. Nothing is set smaller than 7 pt.
 */
export const paperStyles = css`
  :host {
    color-scheme: light;
    display: block;
    color: black;
    background: white;
    font: 9pt/1.22 var(--gyle-text, sans-serif);
    /* A rule at the very edge of the page would be cut in half. */
    padding-inline: 0.75pt;
  }
  section + section {
    margin-block-start: 10pt;
  }
  h1,
  h2,
  h3,
  h4,
  p {
    margin: 0;
  }
  .top {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    justify-content: space-between;
    gap: 0 18pt;
    padding-block-end: 2pt;
    border-block-end: 2pt double black;
    break-inside: avoid;
    break-after: avoid;
  }
  .book {
    flex-basis: 100%;
  }
  h2 {
    font-size: 13pt;
    line-height: 1.2;
  }
  .hand {
    display: flex;
    gap: 14pt;
  }
  .hand span::after {
    content: "";
    display: inline-block;
    inline-size: 28mm;
    margin-inline-start: 4pt;
    border-block-end: 0.75pt solid black;
  }
  .caution {
    margin-block-start: 4pt;
    padding-inline-start: 6pt;
    border-inline-start: 2.5pt solid black;
    break-inside: avoid;
  }
  .flow {
    columns: 2;
    column-gap: 8mm;
    padding-block-start: 2pt;
  }
  h3,
  h4 {
    padding-block: 6pt 1.5pt;
    font-size: 10pt;
    break-after: avoid;
  }
  .prose {
    padding-block: 2pt;
    font-size: 8.5pt;
    orphans: 3;
    widows: 3;
  }
  .line {
    display: grid;
    grid-template-columns: minmax(0, 1fr) auto minmax(12mm, auto);
    gap: 0 4pt;
    align-items: baseline;
    padding-block: 1pt;
    border-block-end: 0.5pt solid #bbb;
    break-inside: avoid;
  }
  .figure {
    justify-self: end;
    font-family: var(--gyle-figures, monospace);
    text-align: end;
    overflow-wrap: anywhere;
  }
  .unit,
  .aside {
    color: #333;
  }
  .aside {
    grid-column: 1 / -1;
    font-size: 7.5pt;
    line-height: 1.15;
  }
  .blank {
    display: inline-block;
    min-inline-size: 26mm;
    block-size: 6mm;
    border-block-end: 1pt solid black;
  }
  .blank.later {
    block-size: 3.5mm;
    border-block-end-style: dotted;
  }
  .taken {
    border-block-end: 1pt solid black;
    padding-inline: 8pt 2pt;
  }
  .choices {
    grid-column: 2 / -1;
    display: flex;
    flex-wrap: wrap;
    justify-content: end;
    gap: 2pt 10pt;
  }
  .box {
    display: inline-block;
    inline-size: 3.5mm;
    block-size: 3.5mm;
    margin-inline-end: 3pt;
    border: 1pt solid black;
    vertical-align: -0.5mm;
  }
  .box.ticked {
    background: linear-gradient(45deg, transparent 45%, black 45% 55%, transparent 55%),
      linear-gradient(-45deg, transparent 45%, black 45% 55%, transparent 55%);
    print-color-adjust: exact;
  }
  .table {
    padding-block-end: 4pt;
  }
  .whole {
    column-span: all;
  }
  .blocks {
    display: flex;
    gap: 4mm;
    align-items: start;
  }
  table {
    flex: 1;
    border-collapse: collapse;
    font-size: 8pt;
    line-height: 1.15;
  }
  .wide table {
    font-size: 7.5pt;
  }
  th,
  td {
    padding: 0.75pt 3pt;
    border: 0.5pt solid #999;
    text-align: end;
    vertical-align: bottom;
  }
  th span {
    display: block;
    color: #333;
    font-weight: 400;
  }
  td {
    font-family: var(--gyle-figures, monospace);
  }
  .words {
    font-family: inherit;
    text-align: start;
    overflow-wrap: anywhere;
  }
  tr {
    break-inside: avoid;
  }
  .ruled td {
    block-size: 6mm;
  }
  .ruled .worked {
    background: repeating-linear-gradient(135deg, #ddd 0 0.4pt, transparent 0.4pt 4pt);
  }
  gyle-plot {
    --gyle-section: 10pt;
    column-span: all;
    margin-block: 6pt 4pt;
  }
  gyle-plot::part(drawing) {
    block-size: 46mm;
  }
  gyle-plot::part(key) {
    font-size: 7.5pt;
  }
`;
