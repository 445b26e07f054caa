import { css } from "lit";

/**
 * What is not understood is told in the flow, so that it covers nothing that can be pressed; what is understood floats over the
 * next line, which can be pressed through it.
 */
export const entryStyles = css`
  .wide {
    grid-column: figure-start / unit-end;
  }
  input,
  select {
    inline-size: 100%;
    border: 0;
    border-block-end: 1.5px solid var(--gyle-rule-firm);
    border-radius: var(--gyle-round) var(--gyle-round) 0 0;
    text-align: end;
    font: inherit;
  }
  .words input {
    font-family: var(--gyle-text);
    text-align: start;
  }
  input.open {
    background: var(--gyle-waiting-soft);
    border-block-end: 2px dashed var(--gyle-waiting);
  }
  input::placeholder {
    font-family: var(--gyle-text);
    font-size: 0.9375rem;
    font-weight: 400;
    color: var(--gyle-waiting);
  }
  input[aria-invalid] {
    border-block-end-color: var(--gyle-fault);
  }
  select.choice {
    grid-column: figure-start / unit-end;
    padding: 0 0.375rem;
    border: 0;
    border-block-end: 1.5px solid var(--gyle-rule-firm);
    background: var(--gyle-field);
    font-family: var(--gyle-text);
    text-align: start;
    z-index: 1;
  }
  .echo {
    grid-column: 2 / -1;
    display: flex;
    flex-wrap: wrap;
    gap: 0.25rem 0.5rem;
    padding-block: 0.125rem 0.375rem;
    font-size: 0.9375rem;
    line-height: 1.35;
  }
  .echo.floats {
    grid-area: figure;
    position: absolute;
    z-index: 4;
    inset-block-start: calc(100% + 0.25rem);
    inset-inline-end: -0.25rem;
    display: block;
    inline-size: max-content;
    max-inline-size: min(20rem, 80vw);
    padding: 0.375rem 0.625rem;
    border: 1px solid var(--gyle-accent);
    border-radius: var(--gyle-round);
    background: var(--gyle-sheet);
    box-shadow: var(--gyle-lift);
    pointer-events: none;
  }
  .echo.wide {
    grid-column: figure-start / unit-end;
  }
  .echo b {
    font-family: var(--gyle-figures);
    font-weight: 600;
  }
  .echo span {
    color: var(--gyle-ink-soft);
  }
  .echo.refused span {
    color: var(--gyle-fault);
    font-weight: 600;
  }
  .echo .edged {
    text-align: start;
  }
  @container sheet (max-width: 29rem) {
    .wide input {
      padding: 0 0.375rem;
      font-size: 0.875rem;
    }
  }
  @media print {
    input {
      background: none;
      border-block-end: 0.75pt solid black;
      min-block-size: 0;
    }
    input.open::placeholder {
      color: transparent;
    }
    .echo {
      display: none;
    }
  }
`;
