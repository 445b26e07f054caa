import { css } from "lit";

export const brewingStyles = css`
  :host {
    display: grid;
    block-size: var(--gyle-height, 100dvh);
    grid-template: auto minmax(0, 1fr) minmax(0, auto) / minmax(0, 1fr);
    background: var(--gyle-paper);
    font-size: 1.25rem;
    user-select: none;
    -webkit-touch-callout: none;
    touch-action: pan-y;
  }
  header {
    grid-row: 1;
    display: flex;
    align-items: center;
    gap: 16px;
    padding: 8px 16px;
    border-block-end: 4px double var(--gyle-accent);
  }
  header button,
  li > button,
  .echo button,
  .choices button,
  .keep {
    min-block-size: var(--gyle-target-wet);
    min-inline-size: var(--gyle-target-wet);
  }
  li > button:not(.line) {
    flex: none;
  }
  .row {
    padding-inline-start: 28px;
  }
  .row > button:not(.line) {
    flex: 1;
    padding-block: 4px;
    font-family: var(--gyle-figures);
    font-size: 1.0625rem;
    line-height: 1.25;
    text-align: start;
    overflow-wrap: anywhere;
  }
  .said + .choices {
    margin-block-start: 16px;
  }
  .echo .choices {
    display: flex;
    flex-wrap: wrap;
    margin-block: 0 16px;
  }
  .sheets {
    flex: 1;
    text-align: start;
    line-height: 1.15;
    overflow-wrap: anywhere;
  }
  .sheets b {
    display: block;
    font-size: 1.375rem;
    font-weight: 700;
  }
  .sheets span {
    font-size: 1rem;
    font-weight: 600;
    color: var(--gyle-waiting);
  }
  .bands {
    display: flex;
    flex-wrap: wrap;
  }
  [role="alert"] {
    flex: 1;
  }
  .care,
  .banner {
    display: flex;
    align-items: center;
    gap: 12px;
    inline-size: 100%;
    min-block-size: var(--gyle-target-wet);
    padding: 8px 16px;
    border-radius: 0;
    font-size: 1.0625rem;
    line-height: 1.25;
    text-align: start;
  }
  .care,
  .care:hover:not(:disabled) {
    border-inline-start: 6px solid var(--gyle-waiting);
    background: var(--gyle-waiting-soft);
  }
  .care svg {
    flex: none;
    color: var(--gyle-waiting);
  }
  .clamped {
    min-inline-size: 0;
    overflow: hidden;
    display: -webkit-box;
    -webkit-box-orient: vertical;
    -webkit-line-clamp: 2;
  }
  .care[aria-expanded="true"] .clamped,
  .open .clamped {
    display: block;
  }
  .care[aria-expanded="true"] .clamped span {
    display: block;
    margin-block-start: 8px;
  }
  /* Beside a fault it is its sign and its name. */
  .care[aria-expanded="false"]:has(+ [role="alert"]:not([hidden])) {
    inline-size: auto;
    flex-direction: column;
    justify-content: center;
    gap: 2px;
    padding: 4px 8px;
    font-size: 1rem;
  }
  .care[aria-expanded="false"]:has(+ [role="alert"]:not([hidden])) .clamped span {
    position: absolute;
    clip-path: inset(50%);
    inline-size: 1px;
    block-size: 1px;
    overflow: hidden;
  }
  /* On a low and narrow screen they scroll with the lines, which have no other room. */
  @media (min-width: 48rem), (min-height: 52rem) {
    main {
      display: flex;
      flex-direction: column;
    }
    .bands {
      flex: none;
      max-block-size: 100%;
      overflow: auto;
    }
    main > ul {
      flex: 1;
      min-block-size: 0;
      overflow: auto;
    }
  }
  .banner,
  .banner:hover:not(:disabled) {
    background: var(--gyle-fault);
    color: var(--gyle-on-accent);
  }
  .banner span {
    flex: 1;
    min-inline-size: 0;
    overflow-wrap: anywhere;
  }
  .banner:focus-visible {
    outline-color: currentColor;
  }
  .bands :focus-visible {
    outline-offset: -6px;
  }
  main {
    grid-row: 2;
    overflow: auto;
    outline-offset: -4px;
  }
  ul {
    display: grid;
    align-content: start;
    gap: 16px;
    padding: 16px;
  }
  li {
    display: flex;
    gap: 16px;
  }
  .line {
    display: grid;
    grid-template-columns: 1.75rem minmax(0, 1fr) auto;
    align-items: center;
    gap: 8px;
    inline-size: 100%;
    min-block-size: var(--gyle-target-wet);
    padding: 4px 16px 4px 8px;
    border: 1px solid var(--gyle-rule);
    background: var(--gyle-sheet);
    text-align: start;
    line-height: 1.2;
  }
  .line[aria-current] {
    border: 3px solid var(--gyle-accent);
    background: var(--gyle-accent-soft);
  }
  .label,
  .value {
    min-inline-size: 0;
    overflow-wrap: anywhere;
  }
  .value {
    max-inline-size: 11rem;
    color: var(--gyle-ink-soft);
    font-size: 1.0625rem;
    text-align: end;
  }
  .value b {
    font-family: var(--gyle-figures);
    font-size: 1.375rem;
    font-weight: 600;
    color: var(--gyle-ink);
  }
  .blank .value b,
  .blank .mark,
  .waiting .value b,
  .waiting .mark {
    color: var(--gyle-waiting);
    font-family: var(--gyle-text);
  }
  .faulty .value b,
  .line.faulty .mark,
  .said.faulty,
  .bad {
    color: var(--gyle-fault);
    font-weight: 600;
  }
  .dock {
    grid-row: 3;
    display: grid;
    grid-template-rows: minmax(0, 1fr) auto;
    gap: 16px;
    /* The header keeps its place; the pad is whole on a screen of 720 px and more. */
    max-block-size: calc(100dvh - 9.5rem);
    /* Four keys of 72 px with their gaps fill 336 px, so that they have their size on a screen of 360 px. */
    padding: 8px clamp(12px, calc((100vw - 336px) / 2), 16px) max(16px, env(safe-area-inset-bottom));
    border-block-start: 1px solid var(--gyle-rule-firm);
    background: var(--gyle-sheet);
  }
  .hand {
    min-block-size: 0;
    overflow: auto;
  }
  /* The pad stays under the finger when something is asked above it. */
  .hand:has(gyle-keypad) {
    align-content: safe end;
  }
  h2 {
    font-size: 1.25rem;
    font-weight: 700;
    line-height: 1.15;
    overflow-wrap: anywhere;
  }
  .field {
    display: flex;
    gap: 16px;
  }
  .shown {
    position: relative;
    flex: 1;
    display: flex;
    align-items: end;
    gap: 8px;
    min-inline-size: 0;
    padding: 0 12px 6px;
    border: 1px solid var(--gyle-rule-firm);
    border-radius: var(--gyle-round);
    background: var(--gyle-field);
    font-family: var(--gyle-figures);
    font-size: 1.75rem;
  }
  .shown.waiting {
    padding-block: 12px;
    font-family: var(--gyle-text);
    font-size: 1.25rem;
  }
  .shown:focus-within {
    outline: 3px solid var(--gyle-accent);
    outline-offset: -3px;
  }
  .name {
    position: absolute;
    inset: 4px 12px auto;
    overflow: hidden;
    font-family: var(--gyle-text);
    font-size: 1rem;
    font-weight: 650;
    line-height: 1.2;
    text-overflow: ellipsis;
    white-space: nowrap;
  }
  .shown input {
    flex: 1;
    inline-size: 100%;
    min-inline-size: 0;
    min-block-size: 70px;
    padding: 22px 0 0;
    border: 0;
    outline: 0;
    background: none;
    font-size: 1.75rem;
    font-weight: 600;
    text-align: end;
  }
  .shown input::placeholder {
    font-family: var(--gyle-text);
    font-size: 1.25rem;
    font-weight: 400;
    color: var(--gyle-waiting);
  }
  .shown .unit {
    padding-block-end: 5px;
    font-family: var(--gyle-text);
    font-size: 1.25rem;
    color: var(--gyle-ink-soft);
  }
  .echo {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 8px 16px;
    min-block-size: 40px;
  }
  .said {
    font-size: 1.125rem;
    line-height: 1.2;
  }
  .choices {
    display: grid;
    gap: 16px;
    font-size: 1.25rem;
  }
  button[aria-pressed="true"] {
    border: 3px solid var(--gyle-accent);
    background: var(--gyle-accent-soft);
  }
  .next {
    grid-row: 2;
    min-block-size: var(--gyle-target-wet);
    font-size: 1.375rem;
  }
  /* Beside the button for its working there is no room for words and figures in one row. */
  @media (max-width: 30rem) {
    .line[aria-current] .value {
      grid-column: 2;
      max-inline-size: none;
      text-align: start;
    }
  }
  @media not (min-width: 48rem) {
    /* The list of sheets needs the room. */
    .behind .hand {
      display: none;
    }
    .dock:has(.echo .choices) {
      max-block-size: calc(100dvh - 6rem);
    }
    /* Field, question and pad are all to be seen. */
    @media (max-height: 52rem) {
      .dock:has(.echo .choices) {
        padding-block-start: 0;
      }
      .echo:has(.choices) {
        row-gap: 0;
      }
      .echo .choices {
        flex-wrap: nowrap;
        line-height: 1.2;
      }
      .echo:has(.choices) .said {
        font-size: 1rem;
      }
      .field:has(+ .echo .choices) .shown {
        padding-block-end: 0;
      }
    }
  }
  @media (min-width: 48rem) {
    :host {
      grid-template: auto minmax(0, 1fr) / minmax(0, 1fr) 27rem;
    }
    header {
      grid-column: 1 / -1;
    }
    main {
      grid-area: 2 / 1;
    }
    .dock {
      grid-area: 2 / 2;
      max-block-size: none;
      border-block-start: 0;
      border-inline-start: 1px solid var(--gyle-rule-firm);
    }
  }
`;
