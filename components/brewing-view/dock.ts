import { html, type TemplateResult } from "lit";
import type { CellResult, Session, Understood } from "../../engine/index.ts";
import { waitsInWords } from "../text/standing.ts";
import type { InHand } from "./in-hand.ts";

/** What was understood and can be kept. */
export type Read = Extract<Understood, { readonly ok: true }>;

/** A line that is worked out: its figure, or what it waits for. */
export const resultOf = (session: Session, cell: CellResult, said: string): TemplateResult => {
  const says = cell.state === "waiting" ? waitsInWords(session, cell) : cell.state === "ready" ? cell.shown : "faulty";
  return html`<h2>${cell.label}</h2><output class="shown ${cell.state}">${says}</output><p class="said" role="status">${said || "Worked out. Its formula is changed at the desk."}</p>`;
};

/** What may be chosen, each by its button. */
export const choicesOf = (hand: InHand, said: string, choose: (choice: string) => void): TemplateResult => {
  const shown = (choice: string): string => choice.replace(/^"(.*)"$/, "$1").replaceAll('""', '"');
  return html`<h2>${hand.label}</h2><p class="said" role="status">${said}</p><div class="choices">${hand.choices.map((choice) => html`<button class="edged" aria-pressed=${hand.was.toLowerCase() === shown(choice).toLowerCase() ? "true" : "false"} @click=${() => choose(choice)}>${shown(choice)}</button>`)}</div>`;
};

/**
 * What is understood, before it is kept (null: nothing is typed); of what could be two things, each to be pressed. The pad stays:
 * 1048 is 104 on the way.
 */
export const echoOf = (understood: Understood | null, said: string, choose: (read: Read) => void): TemplateResult => {
  if (understood === null) return html`<p class="said" role="status">${said}</p>`;
  if ("ask" in understood)
    return html`<p class="said" role="status">${said || understood.says}</p>
        <div class="choices">${understood.choices.map(({ label, reads, formula }) => html`<button class="edged" @click=${() => choose({ ok: true, formula, reads, says: label })}>${label}</button>`)}</div>`;
  return html`<p class="said ${understood.ok ? "" : "faulty"}" role="status">${understood.ok ? html`reads <b>${understood.says}</b>` : `${said} ${understood.says}`}</p>`;
};
