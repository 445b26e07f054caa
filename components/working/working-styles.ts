import { css } from "lit";

export const workingStyles = css`
  :host {
    padding-block: 0.75rem 1rem;
    overflow-wrap: anywhere;
  }
  h3 {
    font-size: 1.125rem;
    font-weight: 700;
    line-height: 1.25;
  }
  h4 {
    margin: 1.125rem 0 0.25rem;
    font-size: var(--gyle-small);
    font-weight: 700;
    color: var(--gyle-ink-soft);
  }
  .name,
  code {
    font-family: var(--gyle-figures);
  }
  .name {
    font-size: var(--gyle-small);
    color: var(--gyle-ink-soft);
  }
  .paper {
    display: grid;
    gap: 0.375rem;
    margin-block-start: 0.625rem;
  }
  .paper dt {
    font-size: var(--gyle-small);
    color: var(--gyle-ink-soft);
  }
  .paper dd {
    margin: 0 0 0.25rem;
    padding-inline-start: 0.75rem;
    border-inline-start: 2px solid var(--gyle-rule-firm);
    font-family: var(--gyle-figures);
    font-size: 0.9375rem;
    line-height: 1.45;
  }
  .paper dd.gives {
    border-inline-start-color: var(--gyle-accent);
    font-size: var(--gyle-figure);
    font-weight: 600;
  }
  ol,
  ul {
    display: grid;
    gap: 0.25rem;
  }
  ol li {
    padding-block: 0.25rem;
    border-block-end: 1px solid var(--gyle-rule);
    font-size: 0.875rem;
    line-height: 1.4;
  }
  .usual,
  .small {
    font-size: var(--gyle-small);
    line-height: 1.4;
    color: var(--gyle-ink-soft);
  }
  .links li {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    justify-content: space-between;
    gap: 0 0.75rem;
  }
  .links .figures {
    font-size: 0.9375rem;
  }
  .links .waiting,
  .caution {
    color: var(--gyle-waiting);
    font-weight: 600;
  }
  .links .faulty,
  .says.faulty {
    color: var(--gyle-fault);
    font-weight: 600;
  }
  .says.waiting {
    color: var(--gyle-waiting);
    font-weight: 600;
  }
  .caution,
  .faults {
    margin-block-start: 0.375rem;
    font-size: 0.875rem;
    line-height: 1.4;
  }
  section dl {
    display: grid;
    grid-template-columns: auto minmax(0, 1fr);
    gap: 0.125rem 0.75rem;
    margin-block-start: 0.25rem;
    font-size: var(--gyle-small);
    line-height: 1.4;
  }
  section dt {
    color: var(--gyle-ink-soft);
  }
  .note {
    font-style: italic;
  }
  @media print {
    :host {
      padding: 0;
    }
    button.link {
      display: inline !important;
      min-block-size: 0;
      color: inherit;
      text-decoration: none;
    }
    ol li,
    dd,
    section {
      break-inside: avoid;
    }
  }
`;
