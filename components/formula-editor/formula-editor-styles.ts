import { css } from "lit";

export const formulaEditorStyles = css`
  :host {
    padding-block: 0.25rem 0.5rem;
    /* The list's place beneath what is told. */
    scroll-margin-block-end: 10rem;
  }
  .buttons {
    display: flex;
    flex-wrap: wrap;
    gap: 0.5rem;
  }
  .cm-editor {
    border: 1px solid var(--gyle-rule-firm);
    border-radius: var(--gyle-round);
    background: var(--gyle-field);
    color: var(--gyle-ink);
  }
  .cm-editor.cm-focused {
    outline: 3px solid var(--gyle-accent);
    outline-offset: -1px;
  }
  .cm-editor .cm-scroller {
    min-block-size: calc(var(--gyle-target) - 2px);
    font-family: var(--gyle-figures);
    line-height: 1.5;
  }
  .cm-editor .cm-content {
    padding-block: 0.55rem;
    caret-color: var(--gyle-ink);
  }
  .cm-editor .cm-line {
    padding-inline: 0.625rem;
  }
  .is-number,
  .is-instant,
  .is-text {
    color: var(--gyle-ink);
  }
  .is-unit,
  .is-operator,
  .is-note {
    color: var(--gyle-ink-soft);
  }
  .is-note {
    font-style: italic;
  }
  .is-name,
  .is-function {
    color: var(--gyle-accent);
  }
  .is-function,
  .is-keyword {
    font-weight: 600;
  }
  .is-blank {
    color: var(--gyle-waiting);
    font-weight: 700;
  }
  .is-broken {
    color: var(--gyle-fault);
  }
  .is-fault {
    background: var(--gyle-fault-soft);
    text-decoration: underline wavy var(--gyle-fault) 1.5px;
    text-decoration-skip-ink: none;
    text-underline-offset: 0.25em;
  }
  .cm-editor .cm-matchingBracket {
    background: var(--gyle-accent-soft);
    outline: 1px solid var(--gyle-rule-firm);
  }
  .field .cm-tooltip.cm-tooltip-autocomplete {
    max-inline-size: min(40rem, 94vw);
    border: 1px solid var(--gyle-rule-firm);
    border-radius: var(--gyle-round);
    background: var(--gyle-sheet);
    color: var(--gyle-ink);
    box-shadow: var(--gyle-lift);
    z-index: 20;
  }
  .field .cm-tooltip.cm-tooltip-autocomplete > ul {
    max-block-size: 12.5rem;
    max-inline-size: min(40rem, 94vw);
    font-family: var(--gyle-figures);
    font-size: 0.9375rem;
  }
  .field .cm-tooltip.cm-tooltip-autocomplete > ul > li {
    display: flex;
    align-items: center;
    gap: 0.75rem;
    min-block-size: 1.875rem;
    padding: 0.125rem 0.625rem;
    line-height: 1.3;
  }
  @media (pointer: coarse) {
    .field .cm-tooltip.cm-tooltip-autocomplete > ul > li {
      min-block-size: var(--gyle-target);
    }
  }
  .field .cm-tooltip.cm-tooltip-autocomplete > ul > li[aria-selected] {
    background: var(--gyle-accent);
    color: var(--gyle-on-accent);
  }
  .field .cm-tooltip .cm-completionDetail {
    margin: 0;
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
    font-family: var(--gyle-text);
    font-size: var(--gyle-small);
    font-style: normal;
    color: var(--gyle-ink-soft);
  }
  .field li[aria-selected] .cm-completionDetail {
    color: inherit;
  }
  .field .cm-tooltip-above {
    margin-block-start: 0 !important;
  }
  .below {
    min-block-size: 2.75rem;
    padding-block: 0.375rem;
    font-size: 0.9375rem;
    line-height: 1.4;
  }
  .gives b {
    font-family: var(--gyle-figures);
    font-variant-numeric: tabular-nums;
  }
  .kind,
  .argument {
    color: var(--gyle-ink-soft);
  }
  .argument {
    font-size: var(--gyle-small);
  }
  .argument code {
    font-family: var(--gyle-figures);
  }
  .argument mark {
    background: none;
    color: var(--gyle-ink);
    font-weight: 700;
    text-decoration: underline;
    text-underline-offset: 0.2em;
  }
  .waiting {
    color: var(--gyle-waiting);
    font-weight: 600;
  }
  .faulty {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.25rem 0.75rem;
    color: var(--gyle-fault);
    font-weight: 600;
  }
  .faulty button {
    font-weight: 400;
    color: var(--gyle-ink);
  }
  kbd {
    margin-inline-start: 0.375rem;
    padding: 0 0.25rem;
    border: 1px solid currentColor;
    border-radius: 2px;
    font: inherit;
    font-size: 0.75rem;
    opacity: 0.85;
  }
  @media (pointer: coarse) {
    kbd {
      display: none;
    }
  }
`;
