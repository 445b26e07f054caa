import { html, nothing, type TemplateResult } from "lit";
import {
  type Awaited,
  applyMend,
  type CellResult,
  type Session,
  wordCaution,
  wordFault,
  wordTooFew,
} from "../../engine/index.ts";
import { labelOf, listed } from "../actions/apply.ts";
import { tell } from "../events.ts";
import { cautionShape } from "../look/icons.ts";
import { whole } from "./whole.ts";

/** Most lines that are named where the pointer rests on what a line waits for. */
const NAMED = 12;

/** A unit that may go on in the next line after each stroke, where there is no room for it in one: "Mcells/mL/°P". */
export const breakable = (unit: string): TemplateResult[] =>
  unit.split(/(?<=\/)/).map((part, at) => (at === 0 ? html`${part}` : html`<wbr />${part}`));

/** A link that goes to a line; `more`: to the button for another row of a table. */
export const goLink = (from: EventTarget, session: Session, name: string, more = false): TemplateResult =>
  html`<button class="link" @click=${() => tell(from, "gyle-go", { name, more })}>${whole(labelOf(session, name))}</button>`;

/** "waits for Rest measured, Tun", and why what is there of it does not do. */
export const waitsInWords = (session: Session, { waitingFor, tooFew }: Awaited): string =>
  `waits for ${waitingFor.map((name) => labelOf(session, name)).join(", ")}${wordTooFew(tooFew)}`;

/**
 * "waits for Rest measured and 2 more", a link to the first of them, and why that does not do where it is begun. It is one piece of text that stays where it begins, so
 * that nothing beside it moves as one reading after another comes in.
 */
export const waitsFor = (
  from: EventTarget,
  session: Session,
  { waitingFor: names, tooFew }: Awaited,
): TemplateResult => {
  const [first] = names;
  if (first === undefined) return html`<span class="says waiting">waits</span>`;
  const more = names.length === 1 ? "" : ` and ${names.length - 1} more`;
  const text = labelOf(session, first) + more;
  return html`<span class="waits ${tooFew === null ? "" : "few"}"><span class="says waiting">waits for</span>
    <button class="link" title=${listed(session, names, NAMED)} @click=${() => tell(from, "gyle-go", { name: first, more: true })}>${text}</button>${whole(wordTooFew(tooFew))}</span>`;
};

/** Cautions that belong to the line itself; safety and estimates are said once a sheet. */
export const ownCautions = (cautions: CellResult["cautions"]): CellResult["cautions"] =>
  cautions.filter(({ code }) => code !== "safety" && code !== "estimate");

/** The state of a line in a word, for the mark in the margin. */
export const stateWord = (cell: CellResult, blank: boolean): string => {
  if (blank) return "to fill";
  return cell.state === "ready" && ownCautions(cell.cautions).length > 0 ? "ready, with a caution" : cell.state;
};

/** What is said beside a line, with the ways on: to the blanks it waits for, to the cause of its fault; its cautions; its note. */
export const besideLine = (host: EventTarget, session: Session, cell: CellResult, blank: boolean): TemplateResult => {
  const note = cell.note === null ? nothing : html`<span class="note">${whole(cell.note)}</span>`;
  if (cell.state === "waiting" && !blank) return html`${waitsFor(host, session, cell)}${note}`;
  if (cell.state === "faulty") {
    if (cell.because === null) return html`${note}`;
    return html`<span class="says faulty">faulty because of</span> ${goLink(host, session, cell.because)}${note}`;
  }
  const cautions = ownCautions(cell.cautions);
  return html`${cautions.map((caution) => html`<span class="caution">${cautionShape} ${whole(wordCaution(caution))}</span>`)}${note}`;
};

/** A line's own faults in words, each with the mends that can be made; `set` keeps a mended formula. */
export const faultsOf = (cell: CellResult, set: (formula: string, label: string) => void): TemplateResult =>
  html`${cell.faults.map(
    (fault) => html`<div class="faults">
      <p class="says faulty"><span>faulty:</span> ${whole(wordFault(fault))}</p>
      ${fault.mends.map((mend) => html`<button class="edged" @click=${() => set(applyMend(cell.formula, mend), mend.label)}>${whole(mend.label)}</button>`)}
    </div>`,
  )}`;
