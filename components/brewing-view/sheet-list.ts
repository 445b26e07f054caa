import { html, nothing, type TemplateResult } from "lit";
import type { Session } from "../../engine/index.ts";
import { stateShapes } from "../look/icons.ts";
import { sheetLabel } from "../text/book.ts";
import { blanksOf, faultsOn, sheetsOf } from "./stops.ts";

/** The sheets, each with what is to fill and what is faulty on it, and to be gone to. */
export const sheetList = (session: Session, here: string, go: (sheet: string) => void): TemplateResult =>
  html`<ul>${sheetsOf(session).map((name) => {
    const open = blanksOf(session, name).length;
    const faulty = faultsOn(session, name).length;
    const state = faulty > 0 ? "faulty" : open > 0 ? "waiting" : "ready";
    return html`<li><button class="line ${state === "waiting" ? "blank" : state}" aria-current=${name === here ? "true" : nothing} @click=${() => go(name)}><span class="mark">${stateShapes[state]}</span><span class="label">${sheetLabel(session, name)}</span><span class="value">${faulty > 0 ? html`<span class="bad">${faulty} faulty</span> · ` : nothing}${open} to fill</span></button></li>`;
  })}</ul>`;
