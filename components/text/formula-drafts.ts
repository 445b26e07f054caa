import type { Session } from "../../engine/index.ts";

/** Where the formula stands that is edited. */
export interface FormulaContext {
  readonly sheet: string;
  readonly cell: string | null;
  readonly table?: string;
}

/** What is written in place of a formula and not yet kept: it outlives its editor, which goes when another sheet comes. */
const drafts = new WeakMap<Session, Map<string, string>>();

const keyOf = ({ table = "", cell }: FormulaContext): string => `${table} ${cell}`;

/** What is written in place of a line's or column's formula; null: nothing. */
export const formulaDraft = (session: Session, of: FormulaContext): string | null =>
  drafts.get(session)?.get(keyOf(of)) ?? null;

/** The place of a line's formula, by the line's full name. */
export const lineContext = (name: string): FormulaContext => ({ sheet: name.split(".")[0] ?? "", cell: name });

/** Whether something is written in place of a line's formula. */
export const isWritten = (session: Session | null, name: string): boolean =>
  session !== null && formulaDraft(session, lineContext(name)) !== null;

export const setFormulaDraft = (session: Session, of: FormulaContext, text: string | null): void => {
  const those = drafts.get(session) ?? new Map<string, string>();
  drafts.set(session, those);
  if (text === null || of.cell === null) those.delete(keyOf(of));
  else those.set(keyOf(of), text);
};
