import { html, type TemplateResult } from "lit";
import type { CellResult, Session } from "../../engine/index.ts";
import { type FormulaContext, lineContext } from "./formula-drafts.ts";

/** The formula editor, loaded when it is first wanted; it fires `gyle-keep` with the formula, or `gyle-leave`. `calm`: it takes no focus. */
export const formulaSlot = (
  session: Session,
  context: FormulaContext,
  formula: string,
  label: string,
  calm = false,
): TemplateResult => {
  void import("../formula-editor/formula-editor.ts");
  return html`<gyle-formula-editor .session=${session} .context=${context} .formula=${formula} .calm=${calm} aria-label=${label}></gyle-formula-editor>`;
};

/** The editor of a line's formula. */
export const lineSlot = (session: Session, { name, label, formula }: CellResult, calm: boolean): TemplateResult =>
  formulaSlot(session, lineContext(name), formula, `Formula of ${label}`, calm);

/** Loads the working panel, `<gyle-working>`. */
export const loadWorking = (): Promise<unknown> => import("../working/working.ts");
