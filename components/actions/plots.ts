import type { Session, TableResult } from "../../engine/index.ts";
import { tell } from "../events.ts";
import { ask, type FormField, type Values } from "../form/form.ts";
import { quoted } from "../text/formula-text.ts";
import { apply } from "./apply.ts";

/** Every table of the book, in its order. */
export const tablesOf = (session: Session): readonly TableResult[] =>
  session.workbook.sheets.flatMap((sheet) =>
    sheet.pages.flat().flatMap((item) => {
      const table = item.is === "table" ? session.table(`${sheet.name}.${item.name}`) : null;
      return table === null ? [] : [table];
    }),
  );

/** A `plot` statement. */
const plotText = (label: string, across: string, lines: readonly string[]): string =>
  [
    `plot ${quoted(label)}`,
    ...(across === "" ? [] : [`  across ${across}`]),
    ...lines.map((line) => `  line ${line}`),
  ].join("\n");

const fieldsFor = (table: TableResult, label: string, across: string, lines: string): readonly FormField[] => {
  const drawable = table.columns.filter(({ type }) => type.kind.is === "quantity" || type.kind.is === "reading");
  const choices = drawable.map((column) => ({ value: column.fullName, label: column.label }));
  return [
    { name: "label", label: "What it is called", value: label },
    {
      name: "across",
      label: "Across the page",
      kind: "choice",
      value: across,
      choices: [{ value: "", label: "The number of the row" }, ...choices],
    },
    { name: "lines", label: "Lines", kind: "several", value: lines, choices },
  ];
};

const check = ({ label = "", lines = "" }: Values): Record<string, string | null> => ({
  label: label.trim() === "" ? "It needs a label." : null,
  lines: lines === "" ? "Choose at least one column to draw." : null,
});

/** Asks which table and which of its columns to draw, and adds the plot after item `at`. */
export const newPlot = async (host: Element, session: Session, sheet: string, at: number | null): Promise<void> => {
  const tables = tablesOf(session);
  const first = tables[0];
  if (first === undefined) {
    tell(host, "gyle-say", {
      says: "A plot draws the columns of a table, and this book has no table yet.",
      grave: true,
    });
    return;
  }
  const here = tables.filter((table) => table.name.startsWith(`${sheet}.`));
  let table = here.length === 1 ? here[0] : first;
  if (tables.length > 1 && here.length !== 1) {
    const chosen = await ask(host, {
      heading: "New plot",
      fields: [
        {
          name: "table",
          label: "Which table does it draw?",
          kind: "choice",
          choices: tables.map(({ name, label }) => ({ value: name, label })),
        },
      ],
      submit: "Go on",
    });
    if (chosen === null) return;
    table = tables.find(({ name }) => name === chosen.table);
  }
  if (table === undefined) return;
  const instants = table.columns.find(({ type }) => type.kind.is === "reading" && /instant/.test(type.kind.family));
  const values = await ask(host, {
    heading: `New plot of ${table.label}`,
    fields: fieldsFor(table, "", instants?.fullName ?? "", ""),
    submit: "Add the plot",
    check,
  });
  if (values === null) return;
  const text = plotText(
    (values.label ?? "").trim(),
    values.across ?? "",
    (values.lines ?? "").split(",").filter(Boolean),
  );
  apply(host, session, { edit: "add-text", sheet, at, text }, `New plot ${values.label}`);
};

/** Changes what a plot draws. */
export const editPlot = async (
  host: Element,
  session: Session,
  sheet: string,
  at: number,
  plot: { readonly label: string; readonly across: string | null; readonly lines: readonly string[] },
): Promise<void> => {
  const full = (name: string): string => (name.split(".").length > 2 ? name : `${sheet}.${name}`);
  const table = session.table(
    full(plot.lines[0] ?? plot.across ?? "")
      .split(".")
      .slice(0, 2)
      .join("."),
  );
  if (table === null) {
    tell(host, "gyle-say", { says: "The table that this plot draws is not in the book.", grave: true });
    return;
  }
  const values = await ask(host, {
    heading: `Change ${plot.label}`,
    fields: fieldsFor(table, plot.label, plot.across === null ? "" : full(plot.across), plot.lines.map(full).join(",")),
    submit: "Change it",
    check,
  });
  if (values === null) return;
  const text = plotText(
    (values.label ?? "").trim(),
    values.across ?? "",
    (values.lines ?? "").split(",").filter(Boolean),
  );
  apply(host, session, { edit: "set-text", sheet, at, text }, `Change of ${plot.label}`);
};
