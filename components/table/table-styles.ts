import { css } from "lit";

/** Height of a row in CSS pixels: a finger's target. */
export const ROW_HEIGHT = 44;

export const tableStyles = css`
  :host {
    --edge: light-dark(rgb(24 33 31 / 26%), rgb(0 0 0 / 70%));
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
  .frame {
    position: relative;
    margin-block-start: 0.25rem;
  }
  /* More columns lie beyond the edge: the table goes on under a shadow. */
  .frame::before,
  .frame::after {
    content: "";
    position: absolute;
    inset-block: 1px;
    z-index: 3;
    inline-size: 1.5rem;
    opacity: 0;
    pointer-events: none;
  }
  .frame::before {
    inset-inline-start: 1px;
    background: linear-gradient(to right, var(--edge), transparent);
  }
  .frame::after {
    inset-inline-end: 1px;
    background: linear-gradient(to left, var(--edge), transparent);
  }
  .frame[data-more~="before"]::before,
  .frame[data-more~="after"]::after {
    opacity: 1;
  }
  .grid {
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
    display: flex;
    flex-direction: column;
    justify-content: start;
    inline-size: 100%;
    min-inline-size: 0;
    padding: 0.25rem 0.5rem;
    text-align: end;
    line-height: 1.2;
  }
  .header button:first-child {
    flex: 1;
  }
  .header b {
    display: block;
    font-weight: 650;
    text-wrap: balance;
  }
  .header .unit {
    color: var(--gyle-ink-soft);
    font-size: 0.9375rem;
  }
  .header .formula {
    display: block;
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
    align-content: center;
    min-inline-size: 0;
    padding-inline: 0.5rem;
    border-inline-start: 1px solid var(--gyle-rule);
    font-family: var(--gyle-figures);
    text-align: end;
    white-space: nowrap;
    overflow: hidden;
    text-overflow: ellipsis;
    cursor: default;
  }
  .entry.measured {
    cursor: text;
  }
  .entry.worked {
    background: var(--gyle-sheet);
  }
  .entry.words {
    text-align: start;
    font-family: var(--gyle-text);
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
  /* Left open with a question: what is typed is not kept. */
  .entry:has(input):not(:focus-within) {
    outline: 2px dashed var(--gyle-fault);
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
  .answers {
    display: flex;
    flex-wrap: wrap;
    gap: 0.5rem;
    padding-block: 0.5rem;
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
