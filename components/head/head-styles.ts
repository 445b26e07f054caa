import { css } from "lit";

/** The frame of the title ends above what is said beneath it, which stands within the field's target. */
export const headStyles = css`
  header {
    display: flex;
    align-items: center;
    gap: 0.25rem 0.5rem;
    padding: 0.375rem 0.75rem;
    border-block-end: 1px solid var(--gyle-rule-firm);
    background: var(--gyle-sheet);
  }
  .title {
    position: relative;
    flex: 1 1 12rem;
    min-inline-size: 8rem;
  }
  .title input {
    inline-size: 100%;
    padding: 0 0.375rem;
    border-color: transparent;
    background: none;
    font-size: 1.25rem;
    font-weight: 700;
    text-overflow: ellipsis;
  }
  .title input:focus {
    outline: 0;
  }
  .title:has(input:hover, input:focus)::before {
    content: "";
    position: absolute;
    inset: 3px 0 auto;
    block-size: 33px;
    outline: 1px solid var(--gyle-rule-firm);
    pointer-events: none;
  }
  .title:has(input:focus)::before {
    outline: 3px solid var(--gyle-accent);
  }
  .kept {
    display: block;
    margin-block-start: -0.5rem;
    padding-inline-start: 0.45rem;
    min-block-size: 1.2rem;
    font-size: var(--gyle-small);
    color: var(--gyle-ink-soft);
  }
  .group {
    display: flex;
  }
  .count {
    display: flex;
    align-items: center;
    gap: 0.25rem;
    padding: 0 0.5rem;
    white-space: nowrap;
  }
  .count .figures {
    min-inline-size: 2ch;
    text-align: end;
    font-weight: 600;
  }
  .faults:not(.none) {
    color: var(--gyle-fault);
    font-weight: 650;
  }
  .blanks:not(.none) {
    color: var(--gyle-waiting);
    font-weight: 650;
  }
  .lens {
    display: flex;
    align-items: center;
    gap: 0.375rem;
    font-size: 0.9375rem;
    color: var(--gyle-ink-soft);
  }
  .lens select {
    padding: 0 0.375rem;
    color: var(--gyle-ink);
  }
  .brew {
    display: flex;
    align-items: center;
    gap: 0.375rem;
    white-space: nowrap;
    color: var(--gyle-accent);
    font-weight: 600;
  }
  header > button {
    flex: none;
  }
  @media (max-width: 84rem) {
    .lens span {
      position: absolute;
      clip-path: inset(50%);
      inline-size: 1px;
      block-size: 1px;
      overflow: hidden;
    }
  }
  @media (max-width: 62rem) {
    .brew span {
      display: none;
    }
  }
  @media (max-width: 48rem) {
    header {
      display: grid;
      grid-template-columns: auto 1fr auto auto;
      padding: 0.25rem;
      gap: 0;
    }
    header > * {
      grid-row: 2;
    }
    .path {
      grid-area: 1 / 1;
    }
    .title {
      grid-area: 1 / 2 / 2 / 4;
      min-inline-size: 0;
    }
    /* Its menu, while it is open, follows it. */
    header > [aria-haspopup] {
      grid-area: 1 / 4;
    }
    .counts {
      grid-column: 1 / 3;
      justify-self: start;
    }
    .brew {
      grid-area: 2 / 4;
      padding: 0;
      justify-content: center;
    }
    .lens {
      display: none;
    }
    .title input {
      font-size: 1.0625rem;
    }
    .title input.long {
      font-size: 0.9375rem;
      letter-spacing: -0.01em;
    }
  }
  @media print {
    header {
      display: block;
      padding: 0;
      border: 0;
      background: none;
    }
    header > :not(.title),
    .kept {
      display: none !important;
    }
    .title input {
      min-block-size: 0;
      padding: 0;
      font-size: 1.25rem;
    }
  }
`;
