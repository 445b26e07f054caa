import { css } from "lit";
import type { ColumnResult } from "../../engine/index.ts";

/** Height of a row in CSS pixels: a finger's target. */
export const ROW_HEIGHT = 44;

/** Least and greatest width of a column in characters: longer words are cut and read in the field. */
const NARROWEST = 6;
const WIDEST = 26;

/** Room of a header's label, and of an entry's edges, in characters. */
const LABEL_ROOM = 3;
const EDGES = 2;

/** A figure in a row is set in --gyle-figure, which is wider than the type that columns are measured in. */
const FIGURE_WIDTH = 1.0625;

/** Columns and least width of a row, as custom properties: header and body stand in one measure. `lengths`: the longest entry of each column in characters. */
export const tracksOf = (columns: readonly ColumnResult[], lengths: readonly number[]): string => {
  const widths = columns.map(({ label, measured }, at) =>
    Math.min(
      WIDEST,
      Math.max(NARROWEST, label.length + LABEL_ROOM, (lengths[at] ?? 0) * FIGURE_WIDTH + EDGES, measured ? 0 : 14),
    ),
  );
  // A figure's character is 0.6 of the type's size.
  const rems = widths.map((width) => Math.round(width * 6) / 10);
  const least = rems.reduce((sum, width) => sum + width, 3);
  return `--tracks: 3rem ${rems.map((width) => `minmax(${width}rem, ${width}fr)`).join(" ")} var(--gyle-target); --least: calc(${least}rem + var(--gyle-target))`;
};

export const tableStyles = css`
  :host {
    margin-block: 1.25rem;
  }
  header {
    display: flex;
    align-items: center;
    gap: 0.5rem;
    flex-wrap: wrap;
  }
  h3 {
    font-size: var(--gyle-section);
    font-weight: 700;
  }
  .count {
    flex: 1;
    font-size: var(--gyle-small);
    color: var(--gyle-ink-soft);
  }
  .grid {
    margin-block-start: 0.25rem;
    max-block-size: min(34rem, 70vh);
    overflow: auto;
    overscroll-behavior-inline: contain;
    border: 1px solid var(--gyle-rule-firm);
    border-radius: var(--gyle-round);
    background: var(--gyle-field);
  }
  .row {
    display: grid;
    grid-template-columns: var(--tracks);
    block-size: 44px;
    min-inline-size: var(--least);
    inline-size: 100%;
    border-block-end: 1px solid var(--gyle-rule);
  }
  .body {
    position: relative;
    min-inline-size: var(--least);
  }
  .body .row {
    contain: strict;
    position: absolute;
    inset-inline-start: 0;
  }
  .head {
    position: sticky;
    inset-block-start: 0;
    z-index: 2;
    block-size: auto;
    background: var(--gyle-sunk);
    border-block-end: 2px solid var(--gyle-rule-firm);
  }
  .header {
    display: flex;
    flex-direction: column;
    min-inline-size: 0;
    border-inline-start: 1px solid var(--gyle-rule);
  }
  .header button {
    inline-size: 100%;
    min-inline-size: 0;
    padding: 0.25rem 0.5rem;
    text-align: end;
    line-height: 1.2;
  }
  .header b {
    display: block;
    font-weight: 650;
  }
  .header .unit {
    color: var(--gyle-ink-soft);
    font-size: 0.9375rem;
  }
  .header .formula {
    min-block-size: 1.75rem;
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
    font-family: var(--gyle-figures);
    font-size: var(--gyle-small);
    color: var(--gyle-ink-soft);
  }
  .number {
    display: grid;
    place-items: center end;
    padding-inline-end: 0.5rem;
    font-family: var(--gyle-figures);
    font-size: var(--gyle-small);
    color: var(--gyle-ink-soft);
  }
  .entry {
    display: flex;
    align-items: center;
    justify-content: flex-end;
    gap: 0.25rem;
    min-inline-size: 0;
    padding-inline: 0.5rem;
    border-inline-start: 1px solid var(--gyle-rule);
    font-family: var(--gyle-figures);
    white-space: nowrap;
    overflow: hidden;
    cursor: default;
  }
  .entry.measured {
    cursor: text;
  }
  .entry.worked {
    background: var(--gyle-sheet);
  }
  .entry.words {
    justify-content: flex-start;
    font-family: var(--gyle-text);
  }
  .entry.words input {
    text-align: start;
  }
  .header.words button {
    text-align: start;
  }
  .entry.chosen {
    background: var(--gyle-accent-soft);
  }
  .entry.bad {
    color: var(--gyle-fault);
    font-weight: 600;
    text-decoration: underline wavy;
    text-underline-offset: 0.2em;
  }
  .entry:focus-visible,
  .entry:focus-within {
    outline: 3px solid var(--gyle-accent);
    outline-offset: -3px;
  }
  .entry input {
    inline-size: 100%;
    min-block-size: 0;
    block-size: 100%;
    padding: 0;
    border: 0;
    outline: 0;
    background: none;
    text-align: inherit;
  }
  .tools button {
    padding: 0;
    min-block-size: 43px;
    color: var(--gyle-ink-soft);
  }
  .status {
    min-block-size: 1.75rem;
    padding-block-start: 0.25rem;
    font-size: 0.9375rem;
    color: var(--gyle-ink-soft);
  }
  .faulty {
    color: var(--gyle-fault);
    font-weight: 600;
  }
  @container sheet (max-width: 29rem) {
    .count {
      display: none;
    }
    h3 {
      flex: 1;
      min-inline-size: 0;
    }
    header {
      flex-wrap: nowrap;
    }
  }
  @media print {
    .grid {
      max-block-size: none;
      overflow: visible;
    }
    .body {
      block-size: auto !important;
    }
    .body .row {
      contain: none;
      position: static;
      block-size: 7mm;
      break-inside: avoid;
    }
    .header button {
      display: block !important;
    }
    .header .formula,
    .tools,
    .status,
    .count {
      display: none !important;
    }
    .ruled {
      border-inline-start: 0.5pt solid #999;
    }
  }
`;
