import {
  applyMend,
  type Context,
  type Edit,
  preview,
  type Session,
  type Understood,
  understandNew,
  wordTooFew,
} from "../../engine/index.ts";
import type { Reading } from "../form/form.ts";
import { labelOf, listed } from "./apply.ts";

/** A formula that was typed in a dialog, as it is kept: a figure as a field would take it, anything else as it stands. */
export const formulaOf = (session: Session, context: Context, typed: string): string => {
  const understood = understandNew(session.model, session.lens, context, typed);
  return understood !== null && "ok" in understood && understood.ok ? understood.formula : typed.trim();
};

/** The question that must be answered before a formula that was typed can be kept; null: there is none. */
export const askedOf = (session: Session, context: Context, typed: string): string | null => {
  const understood = understandNew(session.model, session.lens, context, typed);
  return understood !== null && "ask" in understood ? understood.says : null;
};

/** What a formula that is typed in a dialog is taken for, with its meanings or mends as buttons; null: nothing is typed. */
export const readsFormula = (session: Session, context: Context, typed: string): Reading | null => {
  if (typed.trim() === "") return null;
  const understood = understandNew(session.model, session.lens, context, typed);
  if (understood !== null && "ask" in understood)
    return {
      says: understood.says,
      choices: understood.choices.map(({ formula, label }) => ({ value: formula, label })),
    };
  const seen = preview(session.model, session.lens, context, understood?.ok === true ? understood.formula : typed);
  const [fault] = seen.faults;
  if (fault !== undefined)
    return {
      says: fault.message,
      choices: fault.mends.map((mend) => ({ value: applyMend(typed, mend), label: mend.label })),
    };
  if (seen.because !== null) return { says: `It is faulty because of ${labelOf(session, seen.because)}.` };
  if (seen.state === "ready") return { says: `It is ${understood?.ok === true ? understood.reads : seen.shown}.` };
  return {
    says:
      seen.waitingFor.length === 0
        ? `It is a reading to be taken: ${seen.kindName}.`
        : `It is ${seen.kindName}, waiting for ${listed(session, seen.waitingFor)}${wordTooFew(seen.tooFew)}.`,
  };
};

/** A column's unit as it was typed, `F by 0.1`, as a field would take it behind a figure; null: it is sound as it stands, or unknown. */
export const unitTyped = (session: Session, context: Context, typed: string): Understood | null => {
  const at = typed.search(/\s(?:by|within)\s/);
  const tail = at < 0 ? "" : typed.slice(at).trimEnd();
  const understood = understandNew(
    session.model,
    session.lens,
    context,
    `1 ${(at < 0 ? typed : typed.slice(0, at)).trim()}`,
  );
  if (understood === null) return null;
  const unit = (literal: string): string => literal.replace(/^1 /, "");
  if ("ask" in understood)
    return {
      ...understood,
      says: `${understood.choices.map(({ reads }) => unit(reads)).join(" or ")}: which is meant?`,
      choices: understood.choices.map(({ formula, label, reads }) => ({
        formula: unit(formula) + tail,
        label: unit(label),
        reads: unit(reads),
      })),
    };
  return understood.ok
    ? { ...understood, formula: unit(understood.formula) + tail, reads: unit(understood.reads) }
    : understood;
};

/** Why a new line's name will not do, or null. */
export const refusedName = (session: Session, edit: Extract<Edit, { readonly edit: "add-cell" }>): string | null =>
  session.rehearse(edit).find(({ message }) => message.startsWith(`"${edit.name}" `))?.message ?? null;
