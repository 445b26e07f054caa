import { css } from "lit";

/**
 * One line of a sheet: a mark in the margin, label, figure, unit, what is to be said of it, and its menu. The columns are
 * fixed so that the figures of separate elements stand under one another; a narrow sheet (container `sheet`) folds them.
 */
export const line = css`
  :host {
    --label: 15.5rem;
    --figure: 8.5rem;
    --unit: 5.5rem;
    display: grid;
    grid-template-columns: 1.75rem var(--label) var(--figure) var(--unit) minmax(0, 1fr) var(--gyle-target);
    grid-template-areas: "mark label figure unit aside menu" ". under under under under under";
    align-items: center;
    column-gap: var(--gyle-gap);
    position: relative;
    padding-block: 0.125rem;
    border-block-end: 1px solid var(--gyle-rule);
    min-block-size: calc(var(--gyle-target) + 0.25rem + 1px);
  }
  :host([selected]) {
    background: var(--gyle-accent-soft);
  }
  .mark {
    grid-area: mark;
    color: var(--gyle-ink-soft);
    text-align: center;
  }
  .mark.ready {
    color: var(--gyle-rule-firm);
  }
  .mark.waiting,
  .says.waiting {
    color: var(--gyle-waiting);
  }
  .mark.faulty,
  .says.faulty {
    color: var(--gyle-fault);
  }
  .label {
    grid-area: label;
    min-inline-size: 0;
    overflow-wrap: anywhere;
    hyphens: auto;
    line-height: 1.25;
  }
  .label button:focus-visible {
    outline-offset: -3px;
  }
  .figure {
    grid-area: figure;
    font-family: var(--gyle-figures);
    font-size: var(--gyle-figure);
    font-weight: 500;
    text-align: end;
    min-inline-size: 0;
    overflow-wrap: anywhere;
  }
  output.figure {
    padding-inline-end: 0.625rem;
  }
  .unit {
    grid-area: unit;
    color: var(--gyle-ink-soft);
    font-size: 0.9375rem;
    /* Centred as the figure is, it would stand above the figure's base line. */
    padding-block-start: 0.125rem;
    white-space: nowrap;
  }
  .aside {
    grid-area: aside;
    min-inline-size: 0;
    font-size: var(--gyle-small);
    line-height: 1.35;
    color: var(--gyle-ink-soft);
  }
  .menu {
    grid-area: menu;
    color: var(--gyle-rule-firm);
    padding: 0;
  }
  :host(:hover) .menu,
  :host(:focus-within) .menu,
  :host([selected]) .menu {
    color: var(--gyle-ink);
  }
  .under {
    grid-area: under;
    min-inline-size: 0;
  }
  .says {
    font-size: var(--gyle-small);
    line-height: 1.35;
    font-weight: 600;
  }
  .waits {
    display: flex;
    align-items: center;
    gap: 0.125rem;
  }
  .waits.few {
    display: block;
  }
  .waits.few .link {
    padding-inline-end: 0;
  }
  .waits .says {
    flex: none;
  }
  /* In one line however much it names: nothing beside it moves as the readings come in. */
  .waits:not(.few) .link {
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
  }
  .faults {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.25rem 0.75rem;
    padding-block-end: 0.375rem;
  }
  .note {
    display: block;
    font-style: italic;
  }
  .caution {
    display: block;
    color: var(--gyle-waiting);
    font-weight: 600;
  }
  @container sheet (max-width: 50rem) {
    :host {
      --unit: clamp(3.25rem, 12cqi, 5.5rem);
      grid-template-columns: 1.5rem minmax(0, 1fr) var(--figure) var(--unit) var(--gyle-target);
      grid-template-areas: "mark label figure unit menu" ". aside aside aside aside" ". under under under under";
      column-gap: 0.375rem;
    }
    .aside:not(:empty) {
      padding-block-end: 0.25rem;
    }
    .unit {
      line-height: 1.15;
      white-space: normal;
    }
  }
  @container sheet (max-width: 29rem) {
    :host {
      --figure: 6.75rem;
      --unit: 2.75rem;
    }
    .unit {
      padding-block-start: 0.25rem;
      font-size: 0.875rem;
      line-height: 1.1;
    }
  }
  @media print {
    :host {
      break-inside: avoid;
      min-block-size: 0;
      padding-block: 0.2rem;
    }
  }
`;
