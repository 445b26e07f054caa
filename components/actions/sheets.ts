import { labelFromName, nameFromLabel, type Session } from "../../engine/index.ts";
import { tell } from "../events.ts";
import { ask } from "../form/form.ts";
import { apply, attempt, listed } from "./apply.ts";
import { refuseLabel } from "./lines.ts";
import { itemsOfSheet } from "./places.ts";

/** Asks what the sheet is called and puts it at place `at` (null: last). */
export const newSheet = async (host: Element, session: Session, at: number | null): Promise<void> => {
  const values = await ask(host, {
    heading: "New sheet",
    fields: [
      { name: "label", label: "What it is called", hint: "“Fermentation”. Its name in formulas is made from it." },
    ],
    submit: "Add the sheet",
    check: ({ label = "" }) => ({ label: refuseLabel(label) }),
    keep: (given) => {
      const label = (given.label ?? "").trim();
      const name = nameFromLabel(label);
      const edit = { edit: "add-sheet", at, name, label: labelFromName(name) === label ? null : label } as const;
      return attempt(host, session, edit, `New sheet ${label}`);
    },
  });
  if (values !== null) tell(host, "gyle-go", { name: nameFromLabel(values.label ?? "") });
};

export const moveSheet = (host: EventTarget, session: Session, sheet: string, by: -1 | 1): void => {
  const to = session.workbook.sheets.findIndex((each) => each.name === sheet) + by;
  if (to >= 0 && to < session.workbook.sheets.length)
    apply(host, session, { edit: "move-sheet", sheet, to }, "Move sheet");
};

/** Deletes a sheet; asks first, and says which lines of other sheets use it. */
export const removeSheet = async (host: Element, session: Session, sheet: string): Promise<void> => {
  const { sheets } = session.workbook;
  const here = sheets.findIndex((each) => each.name === sheet);
  const label = sheets[here]?.label ?? labelFromName(sheet);
  const names = itemsOfSheet(session, sheet).flatMap((item) =>
    item.is === "cell" || item.is === "table" ? [`${sheet}.${item.name}`] : [],
  );
  const users = [...new Set(names.flatMap((name) => session.dependants(name)))].filter(
    (name) => !name.startsWith(`${sheet}.`),
  );
  const values = await ask(host, {
    heading: `Delete the sheet ${label}?`,
    says:
      users.length === 0
        ? `It holds ${names.length} ${names.length === 1 ? "line" : "lines"}. Undo brings it back.`
        : `${listed(session, users, 6)} ${users.length === 1 ? "uses" : "use"} it and would be faulty without it. Undo brings it back.`,
    fields: [],
    submit: "Delete the sheet",
    grave: true,
  });
  if (values === null) return;
  const next = sheets[here + 1] ?? sheets[here - 1];
  if (apply(host, session, { edit: "remove-sheet", sheet }, `Delete sheet ${label}`))
    tell(host, "gyle-go", { name: next?.name ?? "" });
};
