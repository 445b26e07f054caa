import { html, type TemplateResult } from "lit";
import type { Session } from "../../engine/index.ts";
import "./plain-editor.ts";

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
): TemplateResult =>
  html`<gyle-plain-editor .session=${session} .context=${context} .formula=${formula} .label=${label}></gyle-plain-editor>`;

/** Loads the working panel. */
export const loadWorking = async (): Promise<void> => {};
