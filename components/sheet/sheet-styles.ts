import { css } from "lit";

export const sheetStyles = css`
  :host {
    container: sheet / inline-size;
    padding: 0 clamp(0.5rem, 2.5cqi, 2rem) 4rem;
  }
  header {
    display: flex;
    align-items: end;
    gap: 0.5rem;
    padding-block: 1.25rem 0.375rem;
    border-block-end: 4px double var(--gyle-accent);
    margin-block-end: 0.25rem;
  }
  h2 {
    flex: 1;
    font-size: var(--gyle-heading);
    font-weight: 700;
    line-height: 1.15;
    letter-spacing: -0.01em;
    overflow-wrap: anywhere;
    padding-block-end: 0.25rem;
  }
  .toggle {
    font-size: 0.9375rem;
  }
  .section {
    display: flex;
    align-items: end;
    justify-content: space-between;
    margin-block-start: 1.75rem;
    border-block-end: 2px solid var(--gyle-rule-firm);
  }
  h3 {
    padding-block-end: 0.375rem;
    font-size: var(--gyle-section);
    font-weight: 700;
    color: var(--gyle-accent);
  }
  .prose {
    display: flex;
    justify-content: space-between;
    align-items: center;
    gap: 0.5rem;
    border-block-end: 1px solid var(--gyle-rule);
  }
  .prose p {
    max-inline-size: 38rem;
    padding: 0.5rem 0 0.5rem 2.25rem;
    color: var(--gyle-ink-soft);
    white-space: pre-line;
    overflow-wrap: anywhere;
  }
  .menu {
    flex: none;
    padding: 0;
    color: var(--gyle-rule-firm);
  }
  :hover > .menu,
  .menu:focus-visible {
    color: var(--gyle-ink);
  }
  .warnings {
    margin-block: 0.75rem;
    padding: 0.5rem 0.75rem;
    border-inline-start: 4px solid var(--gyle-waiting);
    background: var(--gyle-waiting-soft);
  }
  .warnings li {
    display: flex;
    gap: 0.5rem;
    padding-block: 0.125rem;
  }
  .warnings svg {
    margin-block-start: 0.15em;
    color: var(--gyle-waiting);
  }
  .unread {
    display: flex;
    gap: 0.5rem;
    padding-block: 0.5rem;
    border-block-end: 1px solid var(--gyle-rule);
  }
  .unread > div {
    flex: 1;
    min-inline-size: 0;
  }
  .unread .mark,
  .unread p {
    color: var(--gyle-fault);
    font-weight: 600;
  }
  pre {
    margin: 0.25rem 0 0;
    font-family: var(--gyle-figures);
    font-size: var(--gyle-small);
    white-space: pre-wrap;
    overflow-wrap: anywhere;
  }
  footer {
    padding-block-start: 1.25rem;
  }
  gyle-plot {
    min-block-size: 27rem;
  }
  gyle-entry,
  gyle-result {
    content-visibility: auto;
    contain-intrinsic-size: auto 3rem;
  }
  gyle-entry:focus-within,
  gyle-result:focus-within {
    content-visibility: visible;
    z-index: 3;
  }
  /* Prose begins where the labels do. */
  @container sheet (max-width: 50rem) {
    .prose p {
      padding-inline-start: 1.875rem;
    }
  }
  @container sheet (max-width: 29rem) {
    .prose p {
      padding-inline-start: 0;
    }
  }
  @media print {
    :host {
      padding: 0;
    }
    header {
      break-after: avoid;
      border-block-end: 2pt double black;
    }
    .section {
      break-after: avoid;
    }
  }
`;
