import { css } from "lit";

/** Black on white, sized in points: this is read from paper, on A4 and on Letter, and written on with a wet pencil. */
export const paperStyles = css`
  :host {
    color-scheme: light;
    display: block;
    color: black;
    background: white;
    font: 10.5pt/1.35 var(--gyle-text, sans-serif);
  }
  section + section {
    break-before: page;
  }
  h1,
  h2,
  h3,
  p {
    margin: 0;
  }
  .top {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    justify-content: space-between;
    gap: 2pt 18pt;
    padding-block-end: 4pt;
    border-block-end: 2pt double black;
  }
  .book {
    flex-basis: 100%;
    font-size: 10pt;
  }
  h2 {
    font-size: 17pt;
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
  h3 {
    margin-block: 12pt 3pt;
    font-size: 12pt;
    break-after: avoid;
  }
  .caution {
    margin-block-start: 5pt;
    padding-inline-start: 6pt;
    border-inline-start: 2.5pt solid black;
    break-inside: avoid;
  }
  .prose {
    max-inline-size: 150mm;
    padding-block: 5pt;
  }
  .line {
    display: grid;
    grid-template-columns: minmax(0, 1fr) auto 26mm;
    gap: 0 6pt;
    align-items: baseline;
    padding-block: 3pt;
    border-block-end: 0.5pt solid #bbb;
    break-inside: avoid;
  }
  .figure {
    justify-self: end;
    font: 10.5pt/1.35 var(--gyle-figures, monospace);
    text-align: end;
    overflow-wrap: anywhere;
  }
  .unit,
  .aside {
    color: #333;
  }
  .aside {
    grid-column: 1 / -1;
    font-size: 9pt;
  }
  .blank {
    display: inline-block;
    min-inline-size: 34mm;
    block-size: 8mm;
    border-block-end: 1pt solid black;
  }
  .blank.later {
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
    gap: 3pt 12pt;
  }
  .box {
    display: inline-block;
    inline-size: 4mm;
    block-size: 4mm;
    margin-inline-end: 4pt;
    border: 1pt solid black;
    vertical-align: -0.5mm;
  }
  .box.ticked {
    background: linear-gradient(45deg, transparent 45%, black 45% 55%, transparent 55%),
      linear-gradient(-45deg, transparent 45%, black 45% 55%, transparent 55%);
    print-color-adjust: exact;
  }
  table {
    inline-size: 100%;
    border-collapse: collapse;
    font-size: 9.5pt;
  }
  table.wide {
    font-size: 7.5pt;
  }
  caption {
    margin-block: 12pt 3pt;
    font-size: 12pt;
    font-weight: 700;
    text-align: start;
  }
  th,
  td {
    padding: 2pt 4pt;
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
    block-size: 8mm;
  }
  .ruled .worked {
    background: repeating-linear-gradient(135deg, #ddd 0 0.4pt, transparent 0.4pt 4pt);
  }
`;
