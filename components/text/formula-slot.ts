import { html, type TemplateResult } from "lit";
import type { Session } from "../../engine/index.ts";

/** Where the formula stands that is edited. */
export interface FormulaContext {
  readonly sheet: string;
  readonly cell: string | null;
  readonly table?: string;
}

/** The formula editor, loaded when it is first wanted; it fires `gyle-keep` with the formula, or `gyle-leave`. */
export const formulaSlot = (
  session: Session,
  context: FormulaContext,
  formula: string,
  label: string,
): TemplateResult => {
  void import("../formula-editor/formula-editor.ts");
  return html`<gyle-formula-editor .session=${session} .context=${context} .formula=${formula} aria-label=${label}></gyle-formula-editor>`;
};

/** Loads the working panel, `<gyle-working>`. */
export const loadWorking = (): Promise<unknown> => import("../working/working.ts");
