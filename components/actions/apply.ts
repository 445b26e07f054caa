import { type Edit, labelFromName, type Session } from "../../engine/index.ts";
import { tell } from "../events.ts";

/** What a line, table or column is called on screen; its bare name when the book has none such. */
export const labelOf = (session: Session, name: string): string => {
  const cell = session.cell(name) ?? session.table(name);
  if (cell !== null) return cell.label;
  const parts = name.split(".");
  const column = session.table(parts.slice(0, 2).join("."))?.columns.find((each) => each.fullName === name);
  return column?.label ?? labelFromName(parts.at(-1) ?? name);
};

/** "Malt in, Strike water and 3 more". */
export const listed = (session: Session, names: readonly string[], most = 4): string => {
  const labels = names.slice(0, most).map((name) => labelOf(session, name));
  const rest = names.length - labels.length;
  if (rest > 0) return `${labels.join(", ")} and ${rest} more`;
  return labels.length < 2 ? labels.join("") : `${labels.slice(0, -1).join(", ")} and ${labels.at(-1)}`;
};

/**
 * Carries out edits and tells the reader of results that now are of another kind; gives a sentence when they are refused.
 * `label` is what undo calls the step.
 */
export const attempt = (
  host: EventTarget,
  session: Session,
  edit: Edit | readonly Edit[],
  label: string,
): string | null => {
  const outcome = session.dispatch(edit, label);
  if (!outcome.ok) return outcome.says;
  const changes = outcome.kindChanges.map(
    ({ name, before, after }) => `${labelOf(session, name)} was ${before} and is now ${after}.`,
  );
  if (changes.length > 0) tell(host, "gyle-say", { says: changes.slice(0, 3).join(" ") });
  return null;
};

/** The same where no dialog is open: a refusal is told to the reader; false when refused. */
export const apply = (host: EventTarget, session: Session, edit: Edit | readonly Edit[], label: string): boolean => {
  const says = attempt(host, session, edit, label);
  if (says !== null) tell(host, "gyle-say", { says, grave: true });
  return says === null;
};
