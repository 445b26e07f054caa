import { css } from "lit";

/** The frame of a dialog, and what darkens the page behind it. */
export const dialogFrame = css`
  dialog {
    padding: 0;
    border: 1px solid var(--gyle-rule-firm);
    border-radius: var(--gyle-round);
    background: var(--gyle-sheet);
    color: inherit;
    box-shadow: var(--gyle-lift);
  }
  dialog::backdrop {
    background: rgb(10 16 14 / 45%);
  }
`;

/** A dialog of a height of its own: its head and foot stand, and what is between them scrolls. */
export const tallDialog = css`
  dialog[open] {
    display: grid;
    grid-template-rows: auto minmax(0, 1fr) auto;
  }
  header {
    display: flex;
    align-items: center;
    gap: 0.5rem;
    margin: 0.75rem 1.25rem 0;
    border-block-end: 4px double var(--gyle-accent);
  }
  h2 {
    flex: 1;
    font-size: 1.25rem;
    font-weight: 700;
  }
  .body {
    overflow: auto;
    padding: 1rem 1.25rem;
  }
`;
