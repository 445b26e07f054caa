import { css } from "lit";

/** The open sheet has room at its end, so that its last line can be brought above what the slip says. */
export const workbookStyles = css`
  :host {
    block-size: var(--gyle-height, 100dvh);
    color-scheme: light dark;
    background: var(--gyle-paper);
  }
  .book {
    display: grid;
    block-size: 100%;
    grid-template: auto minmax(0, 1fr) / 14.5rem minmax(0, 1fr);
    grid-template-areas: "head head" "path sheet";
  }
  .book.beside {
    grid-template-columns: 14.5rem minmax(0, 1fr) 22rem;
    grid-template-areas: "head head head" "path sheet working";
  }
  gyle-head {
    grid-area: head;
  }
  .book > gyle-path {
    grid-area: path;
    overflow: auto;
    padding: 1.25rem 0.25rem 1.25rem 0.5rem;
    border-inline-end: 1px solid var(--gyle-rule);
  }
  main {
    grid-area: sheet;
    overflow: auto;
    scrollbar-gutter: stable;
    padding-block-end: 3rem;
    outline-offset: -3px;
  }
  main:focus {
    outline: none;
  }
  gyle-sheet,
  gyle-front {
    max-inline-size: 64rem;
  }
  aside {
    grid-area: working;
    overflow: auto;
    padding: 0 1rem 2rem;
    border-inline-start: 1px solid var(--gyle-rule);
    background: var(--gyle-sheet);
  }
  aside header {
    display: flex;
    align-items: center;
    justify-content: space-between;
    position: sticky;
    inset-block-start: 0;
    z-index: 2;
    background: inherit;
    border-block-end: 1px solid var(--gyle-rule);
  }
  aside h2 {
    font-size: var(--gyle-section);
    font-weight: 700;
  }
  /* The foot of the brewing view is where the next reading is, and must stay free. */
  :host([view="brew"]) gyle-slip {
    --gyle-target: var(--gyle-target-wet);
    inset: 6.25rem 0 auto;
  }
  @media (min-width: 48rem) {
    :host([view="brew"]) gyle-slip {
      inset: auto 27rem 1rem 0;
    }
  }
  .refusal {
    margin: 1rem;
    padding: 0.75rem 1rem;
    border-inline-start: 5px solid var(--gyle-fault);
    background: var(--gyle-fault-soft);
    color: var(--gyle-fault);
    font-weight: 600;
  }
  .drawer {
    inset: 0 auto 0 0;
    inline-size: min(19rem, calc(100vw - 3rem));
    block-size: 100dvh;
    max-block-size: none;
    margin: 0;
    padding: 1rem 0.5rem;
    border: 0;
    border-inline-end: 1px solid var(--gyle-rule-firm);
    background: var(--gyle-paper);
    color: inherit;
    box-shadow: var(--gyle-lift);
  }
  .drawer::backdrop {
    background: rgb(10 16 14 / 45%);
  }
  @media (max-width: 76rem) {
    main:has(+ aside) {
      padding-block-end: 60dvh;
    }
    aside {
      position: fixed;
      inset: auto 0 0 0;
      z-index: 10;
      max-block-size: 60dvh;
      border: 0;
      border-block-start: 3px double var(--gyle-accent);
      box-shadow: var(--gyle-lift);
    }
  }
  @media (max-width: 62rem) {
    .book {
      grid-template: auto minmax(0, 1fr) / minmax(0, 1fr);
      grid-template-areas: "head" "sheet";
    }
  }
  @media print {
    :host {
      block-size: auto;
      color-scheme: light;
      background: none;
      --gyle-paper: white;
      --gyle-sheet: white;
      --gyle-field: white;
      --gyle-sunk: white;
      --gyle-waiting-soft: white;
      --gyle-accent-soft: white;
    }
    .book {
      display: block;
    }
    main {
      overflow: visible;
      padding: 0;
    }
    .book > gyle-path,
    aside,
    gyle-slip,
    slot {
      display: none !important;
    }
    gyle-sheet + gyle-sheet {
      break-before: page;
    }
  }
`;
