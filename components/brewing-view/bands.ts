import { html, nothing, type TemplateResult } from "lit";
import type { Session } from "../../engine/index.ts";
import { cautionShape, icons, stateShapes } from "../look/icons.ts";
import { faultyPlaces, type Trouble } from "../text/book.ts";
import { careOf } from "../text/care.ts";
import { placeInWords } from "./stops.ts";

/** What is dangerous about a sheet: two lines of it, all of it when it is opened, and all of it to a screen reader. */
export const careStrip = (
  session: Session,
  here: string,
  open: boolean,
  toggle: () => void,
): TemplateResult | typeof nothing => {
  const says = careOf(session, here);
  if (says.length === 0) return nothing;
  return html`<button class="care" aria-expanded=${open ? "true" : "false"} @click=${toggle}>${cautionShape}<span class="clamped"><b>Take care.</b> ${says.map((each) => html`<span>${each} </span>`)}</span></button>`;
};

/** The first fault of the book, with its place; pressed, it leads there and is told in full. */
export const faultBand = (session: Session, trouble: Trouble, open: boolean, go: () => void): TemplateResult => {
  const faulty = faultyPlaces(session).length;
  return html`<button class="banner ${open ? "open" : ""}" @click=${go}>${stateShapes.faulty}<span class="clamped"><b>${faulty === 1 ? "1 line is faulty" : `${faulty} lines are faulty`}</b>. ${placeInWords(session, trouble.name)}. ${trouble.message}</span>${icons.next}</button>`;
};

/** Brings the line in hand into view; what is new of danger and faults instead, where that scrolls with the lines. */
export const bringIntoView = (root: ParentNode, warned: boolean): void => {
  const main = root.querySelector("main");
  if (warned && main !== null && getComputedStyle(main).display === "block") main.scrollTo(0, 0);
  else root.querySelector(".line[aria-current]")?.scrollIntoView({ block: "center" });
};
