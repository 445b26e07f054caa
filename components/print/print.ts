import type { Session } from "../../engine/index.ts";
import { tokens } from "../look/tokens.ts";
import "../plot/plot.ts";
import { titleOf } from "../text/book.ts";
import "./paper.ts";

/** A text as CSS writes it between quotes; what could end it early or stand for something else is written by its number. */
const quoted = (text: string): string =>
  `"${text.replace(/["\\\p{Cc}]/gu, (sign) => `\\${(sign.codePointAt(0) ?? 0).toString(16)} `)}"`;

/**
 * What holds for the page while a paper is printed: nothing but the paper is on it, and each page has the book's title and
 * its number. The size is the printer's own, so that A4 and Letter both come out whole.
 */
const pageStyles = (title: string): string => `
  @page {
    margin: 15mm 14mm 18mm;
    @bottom-left { content: ${quoted(title)}; font: 8pt sans-serif; }
    @bottom-right { content: counter(page) " / " counter(pages); font: 8pt sans-serif; }
  }
  @media screen {
    gyle-paper { position: absolute; inset-block-start: 0; inset-inline-start: -300mm; inline-size: 182mm; visibility: hidden; }
  }
  @media print {
    body > :not(gyle-paper) { display: none !important; }
    body { background: white; }
  }
`;

/** Prints these sheets as they stand on paper, "" being the front page; resolves when the printing is done or given up. */
export async function printSheets(session: Session, names: readonly string[]): Promise<void> {
  const paper = Object.assign(document.createElement("gyle-paper"), { session, names });
  const styles = new CSSStyleSheet();
  styles.replaceSync(pageStyles(titleOf(session.workbook)));
  const before = [...document.adoptedStyleSheets];
  document.adoptedStyleSheets = [...before, ...(tokens.styleSheet === undefined ? [] : [tokens.styleSheet]), styles];
  // Assistive technology keeps to the page itself, which says the same.
  paper.setAttribute("aria-hidden", "true");
  document.body.append(paper);
  try {
    await paper.updateComplete;
    await document.fonts.ready;
    await drawn(paper);
    await new Promise<void>((printed) => {
      addEventListener("afterprint", () => printed(), { once: true });
      print();
    });
  } finally {
    paper.remove();
    document.adoptedStyleSheets = before;
  }
}

/** A plot is drawn by code that comes when it is first needed; a longer wait than this is given up, in milliseconds. */
const DRAWN_MS = 3_000;

/** Waits until every plot has its drawing, or says why it has none. */
async function drawn(paper: HTMLElement): Promise<void> {
  const end = performance.now() + DRAWN_MS;
  const plots = [...(paper.shadowRoot?.querySelectorAll("gyle-plot") ?? [])];
  const waits = (): boolean => plots.some(({ shadowRoot }) => shadowRoot?.querySelector("canvas, .none") === null);
  do await new Promise((frame) => requestAnimationFrame(() => setTimeout(frame)));
  while (waits() && performance.now() < end);
}
