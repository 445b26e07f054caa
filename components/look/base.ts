import { css } from "lit";

/** What every element shares: boxes, focus ring, buttons, fields, and text that only a screen reader meets. */
export const base = css`
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  :host {
    display: block;
    color: var(--gyle-ink);
    font-family: var(--gyle-text);
    font-size: var(--gyle-body);
    line-height: 1.45;
  }
  :host([hidden]),
  [hidden] {
    display: none !important;
  }
  :focus-visible {
    outline: 3px solid var(--gyle-accent);
    outline-offset: 2px;
  }
  h1,
  h2,
  h3,
  p,
  ul,
  ol,
  dl,
  dd,
  fieldset {
    margin: 0;
    padding: 0;
    border: 0;
  }
  ul,
  ol {
    list-style: none;
  }
  button,
  select,
  input,
  textarea {
    font: inherit;
    color: inherit;
    border-radius: var(--gyle-round);
  }
  button {
    min-block-size: var(--gyle-target);
    min-inline-size: var(--gyle-target);
    padding: 0 0.75rem;
    border: 1px solid transparent;
    background: none;
    cursor: pointer;
    touch-action: manipulation;
  }
  button:hover:not(:disabled) {
    background: var(--gyle-accent-soft);
  }
  button:disabled {
    color: var(--gyle-ink-soft);
    opacity: 0.55;
    cursor: default;
  }
  button.edged {
    border-color: var(--gyle-rule-firm);
    background: var(--gyle-field);
  }
  button.firm {
    background: var(--gyle-accent);
    color: var(--gyle-on-accent);
    font-weight: 600;
  }
  button.firm:hover:not(:disabled) {
    background: color-mix(in oklab, var(--gyle-accent) 85%, var(--gyle-ink));
  }
  button.grave {
    background: var(--gyle-fault);
    color: var(--gyle-on-accent);
    font-weight: 600;
  }
  button.link {
    min-inline-size: 0;
    padding: 0 0.25rem;
    color: var(--gyle-accent);
    text-decoration: underline;
    text-underline-offset: 0.2em;
    text-align: start;
  }
  @media (pointer: fine) {
    button.link {
      min-block-size: 1.75rem;
    }
  }
  input,
  select,
  textarea {
    min-block-size: var(--gyle-target);
    padding: 0 0.625rem;
    border: 1px solid var(--gyle-rule-firm);
    background: var(--gyle-field);
    max-inline-size: 100%;
  }
  textarea {
    padding-block: 0.5rem;
  }
  ::placeholder {
    color: var(--gyle-ink-soft);
    opacity: 1;
  }
  .figures {
    font-family: var(--gyle-figures);
    font-variant-numeric: tabular-nums;
  }
  /* A figure and its unit. */
  .whole {
    white-space: nowrap;
  }
  .unseen {
    position: absolute;
    inline-size: 1px;
    block-size: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
  svg {
    inline-size: 1.25em;
    block-size: 1.25em;
    fill: none;
    stroke: currentColor;
    stroke-width: 1.75;
    stroke-linecap: round;
    stroke-linejoin: round;
    vertical-align: -0.25em;
    flex: none;
  }
  @media (prefers-reduced-motion: no-preference) {
    button {
      transition: background-color 120ms ease-out;
    }
  }
  @media print {
    button:not(.printed, .link),
    .screen-only {
      display: none !important;
    }
  }
`;
