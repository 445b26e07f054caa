import { css } from "lit";
import { dialogFrame, tallDialog } from "../look/dialog.ts";

const own = css`
  dialog {
    inline-size: min(64rem, calc(100vw - 1rem));
    max-inline-size: none;
    block-size: calc(100dvh - 1rem);
    max-block-size: none;
  }
  dialog.over {
    outline: 4px dashed var(--gyle-accent);
    outline-offset: -8px;
  }
  h3 {
    margin-block: 1.5rem 0.375rem;
    color: var(--gyle-accent);
    font-size: var(--gyle-section);
    font-weight: 700;
  }
  h4 {
    margin-block: 1rem 0.25rem;
    font-weight: 650;
  }
  .body {
    padding-block-end: 2rem;
  }
  .soft {
    font-size: 0.9375rem;
    color: var(--gyle-ink-soft);
  }
  .unit {
    font-weight: 400;
    color: var(--gyle-ink-soft);
  }
  .source,
  .into {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.5rem 1rem;
  }
  .into label,
  .paste {
    display: grid;
    gap: 0.25rem;
    font-weight: 600;
  }
  .into {
    margin-block-end: 0.75rem;
  }
  .into select {
    inline-size: min(22rem, 100%);
  }
  .paste {
    margin-block: 1rem 0.5rem;
  }
  .paste textarea {
    inline-size: 100%;
    font-family: var(--gyle-figures);
    white-space: pre;
    overflow: auto;
  }
  .file {
    overflow-wrap: anywhere;
  }
  .far {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.5rem 1rem;
  }
  progress {
    flex: 1;
    min-inline-size: 8rem;
    block-size: 0.75rem;
    accent-color: var(--gyle-accent);
  }
  .refused,
  .against {
    margin-block: 0.75rem;
    padding: 0.5rem 0.75rem;
    border-inline-start: 5px solid var(--gyle-fault);
    background: var(--gyle-fault-soft);
  }
  .question {
    margin-block: 0.75rem;
    padding: 0.5rem 0.75rem 0.75rem;
    border: 0;
    border-inline-start: 5px solid var(--gyle-waiting);
    background: var(--gyle-waiting-soft);
    min-inline-size: 0;
  }
  .question legend {
    float: inline-start;
    inline-size: 100%;
    padding: 0;
    font-weight: 650;
  }
  .question legend + * {
    clear: both;
  }
  .question .soft {
    color: inherit;
  }
  .examples {
    margin-block: 0.25rem;
    font-family: var(--gyle-figures);
    font-size: 0.9375rem;
    overflow-wrap: anywhere;
  }
  .choice {
    display: flex;
    align-items: center;
    gap: 0.5rem;
    min-block-size: var(--gyle-target);
  }
  input[type="radio"] {
    flex: none;
    inline-size: 1.375rem;
    min-block-size: 1.375rem;
    accent-color: var(--gyle-accent);
  }
  .scroll {
    max-block-size: 24rem;
    overflow: auto;
    border: 1px solid var(--gyle-rule-firm);
    border-radius: var(--gyle-round);
    background: var(--gyle-field);
  }
  table {
    border-collapse: collapse;
  }
  .scroll table {
    min-inline-size: 100%;
  }
  th,
  td {
    padding: 0.25rem 0.625rem;
    border-block-end: 1px solid var(--gyle-rule);
    text-align: end;
    white-space: nowrap;
  }
  .scroll td,
  .scroll tbody th {
    font-family: var(--gyle-figures);
    font-size: 0.9375rem;
    font-variant-numeric: tabular-nums;
  }
  .scroll tbody th {
    color: var(--gyle-ink-soft);
    font-weight: 400;
  }
  thead th {
    background: var(--gyle-sunk);
    font-weight: 650;
  }
  .scroll thead th {
    position: sticky;
    inset-block-start: 0;
  }
  .rejected td {
    color: var(--gyle-fault);
    text-align: start;
    white-space: normal;
  }
  .scroll td.words,
  .matches th,
  .matches td {
    text-align: start;
  }
  .scroll td.words {
    font-family: var(--gyle-text);
    white-space: normal;
    min-inline-size: 12rem;
  }
  .scroll td.raw {
    font-family: var(--gyle-figures);
    color: inherit;
    overflow-wrap: anywhere;
  }
  ins {
    font-weight: 650;
    text-decoration: none;
  }
  .settings {
    display: grid;
    gap: 0.25rem 1.5rem;
    grid-template-columns: repeat(auto-fill, minmax(min(20rem, 100%), 1fr));
  }
  .setting {
    display: grid;
    align-content: end;
  }
  .setting select,
  .matches select {
    inline-size: 100%;
    min-inline-size: 0;
  }
  .matches {
    inline-size: min(44rem, 100%);
    margin-block-start: 0.75rem;
    table-layout: fixed;
  }
  .matches th,
  .matches td {
    padding: 0.125rem 0.375rem 0.125rem 0;
    white-space: normal;
    overflow-wrap: anywhere;
  }
  .matches thead th {
    background: none;
  }
  .matches tbody th {
    font-weight: 650;
  }
  .unit-field {
    inline-size: min(12rem, 100%);
    font-family: var(--gyle-figures);
  }
  .new-columns li {
    display: flex;
    flex-wrap: wrap;
    align-items: end;
    gap: 0.25rem 1rem;
    padding-block: 0.375rem;
    border-block-end: 1px solid var(--gyle-rule);
  }
  .new-columns label {
    display: grid;
    font-size: 0.9375rem;
    color: var(--gyle-ink-soft);
  }
  .new-columns input {
    color: var(--gyle-ink);
  }
  .counts {
    display: flex;
    flex-wrap: wrap;
    align-items: end;
    gap: 0.25rem 0.75rem;
  }
  .counts div {
    display: grid;
  }
  .counts dt {
    order: 2;
    color: var(--gyle-ink-soft);
  }
  .counts dd {
    font-family: var(--gyle-figures);
    font-size: 1.5rem;
    font-weight: 600;
    font-variant-numeric: tabular-nums;
  }
  .counts dd::after {
    content: attr(data-sign) / "";
    margin-inline-start: 0.75rem;
    font-weight: 400;
    color: var(--gyle-ink-soft);
  }
  .counts .faulty dd,
  .counts .faulty dt {
    color: var(--gyle-fault);
  }
  .notes {
    margin-block: 0.5rem;
  }
  .notes li {
    padding-inline-start: 0.75rem;
    margin-block: 0.25rem;
    border-inline-start: 3px solid var(--gyle-rule-firm);
  }
  footer {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    justify-content: flex-end;
    gap: 0.5rem;
    padding: 0.75rem 1.25rem;
    border-block-start: 1px solid var(--gyle-rule-firm);
  }
  footer p {
    flex: 1 1 12rem;
  }
  @media (max-width: 40rem) {
    header,
    .body,
    footer {
      margin-inline: 0;
      padding-inline: 0.75rem;
    }
    header {
      margin-inline: 0.75rem;
      padding-inline: 0;
    }
    footer p {
      flex-basis: 100%;
    }
    .matches tr {
      display: grid;
      grid-template-columns: 1fr 7rem;
    }
    .matches thead tr,
    .matches tbody th {
      grid-column: 1 / -1;
    }
    .matches thead {
      display: none;
    }
  }
`;

export const readingsStyles = [dialogFrame, tallDialog, own];
