import type { Caution, Session, State } from "../../engine/index.ts";
import type { FormulaContext } from "./formula-slot.ts";

/** What a field makes of typed text: the formula to keep with the value said back, a refusal, or a choice between two readings of it. */
export type Understood =
  | { readonly ok: true; readonly formula: string; readonly says: string }
  | { readonly ok: false; readonly says: string }
  | {
      readonly ask: true;
      readonly says: string;
      readonly choices: readonly { readonly label: string; readonly formula: string }[];
    };

/** What a formula would give if it were kept. */
export interface Preview {
  readonly faults: readonly { readonly message: string }[];
  readonly shown: string;
  readonly kindName: string;
  readonly state: State;
  readonly waitingFor: readonly string[];
  readonly cautions: readonly Caution[];
}

interface Asking {
  understand(name: string, typed: string, column?: string): Understood;
  preview(context: FormulaContext, formula: string): Preview;
}

/** How typed text is read in the field of a line, or in an entry of a table's column. */
export const understand = (session: Session, name: string, typed: string, column?: string): Understood => {
  const asking = session as unknown as Partial<Asking>;
  if (asking.understand !== undefined) return asking.understand(name, typed, column);
  const cell = session.cell(name);
  const mark = cell?.blank ? "? " : "";
  const unit = cell?.unitText ?? "";
  const figure = typed.trim().replace(/F$/, " °F").replace(",", ".");
  if (column !== undefined) return { ok: true, formula: figure, says: figure };
  if (figure === "") return { ok: true, formula: `? ${cell?.blank?.unitText ?? ""}`, says: "empty" };
  const full = /^-?[\d.]+$/.test(figure) ? `${figure} ${unit}` : figure;
  return /^[-\d"yn]/.test(full)
    ? { ok: true, formula: `${mark}${full}`, says: full }
    : { ok: false, says: `“${typed}” is not a figure.` };
};

/** What a formula would give, while it is typed. */
export const preview = (session: Session, context: FormulaContext, formula: string): Preview =>
  (session as unknown as Partial<Asking>).preview?.(context, formula) ?? {
    faults: [],
    shown: "",
    kindName: "",
    state: "ready",
    waitingFor: [],
    cautions: [],
  };
