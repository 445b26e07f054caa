import { createSession, type Session } from "../../engine/index.ts";
import "../brewing-view/brewing-view.ts";
import "../entry/entry.ts";
import "../first-run/first-run.ts";
import "../formula-editor/formula-editor.ts";
import { ask } from "../form/form.ts";
import "../front/front.ts";
import "../head/head.ts";
import "../keypad/keypad.ts";
import { tokens } from "../look/tokens.ts";
import { openMenu } from "../menu/menu.ts";
import "../path/path.ts";
import "../plot/plot.ts";
import "../readings/readings.ts";
import { GyleTrouble } from "../readings/trouble.ts";
import "../result/result.ts";
import "../sheet/sheet.ts";
import "../slip/slip.ts";
import "../table/table.ts";
import "../workbook/workbook.ts";
import "../working/working.ts";
import { SHOWN_BOOK, SHOWN_CSVS } from "./shown-book.ts";

/** The page that shows every component by itself in its states; for those who work on them. */

if (tokens.styleSheet !== undefined) document.adoptedStyleSheets = [tokens.styleSheet];

const session: Session = createSession(SHOWN_BOOK);

/** A stand with a heading for each state of one element. */
const show = (heading: string, says: string, elements: readonly Element[], kind = ""): void => {
  const section = document.createElement("section");
  const title = document.createElement("h2");
  title.textContent = heading;
  const text = document.createElement("p");
  text.textContent = says;
  section.append(title, text);
  for (const element of elements) {
    const stand = document.createElement("div");
    stand.className = `stand ${kind}`;
    stand.append(element);
    section.append(stand);
  }
  document.querySelector("main")?.append(section);
};

const make = <K extends keyof HTMLElementTagNameMap>(
  tag: K,
  properties: Partial<HTMLElementTagNameMap[K]>,
): HTMLElementTagNameMap[K] => Object.assign(document.createElement(tag), properties);

const button = (label: string, act: (button: HTMLButtonElement) => void): HTMLButtonElement => {
  const made = make("button", { textContent: label });
  made.addEventListener("click", () => act(made));
  return made;
};

const line = (name: string): Element => make("gyle-entry", { session, name });
const result = (name: string): Element => make("gyle-result", { session, name, formulas: true });
const item = <T extends string>(is: T) =>
  session.workbook.sheets.flatMap((sheet) => sheet.pages.flat()).find((each) => each.is === is);

show(
  "gyle-entry",
  "A figure, a blank, a filled blank with a caution, a choice, a moment.",
  ["mash.grain", "mash.rest_measured", "mash.out_of_range", "mash.tun", "batch_date"].map(line),
);
show(
  "gyle-result",
  "Ready, waiting, faulty of itself, faulty because of another, skipped entries.",
  ["mash.mash_ratio", "mash.warmer", "mash.bad", "mash.worse", "cellar.mean_change"].map(result),
);

const table = item("table");
if (table?.is === "table")
  show("gyle-table", "Measured and worked columns, an entry in another unit, a missing one, one that is faulty.", [
    make("gyle-table", { session, name: "cellar.readings", item: table }),
  ]);
const plot = item("plot");
if (plot?.is === "plot")
  show("gyle-plot", "Two units, two axes; the arrows read the points.", [
    make("gyle-plot", { session, sheet: "cellar", item: plot }),
  ]);

show(
  "gyle-readings",
  "Opened by these buttons: no file yet, a file with corrections and rejects, one with questions, one for a new table, one that is none.",
  Object.entries(SHOWN_CSVS).map(([label, { table: into, csv }]) =>
    button(label, () => {
      const readings = make("gyle-readings", { session, table: into, sheet: "cellar", csv });
      readings.addEventListener("close", () => readings.remove());
      document.querySelector("main")?.append(readings);
    }),
  ),
);
show("gyle-trouble", "What in the readings does not look like a reading.", [
  Object.assign(new GyleTrouble(), { session, table: "cellar.readings" }),
]);

show("gyle-sheet", "A whole sheet, on a desk and on a phone.", [make("gyle-sheet", { session, name: "mash" })]);
show("gyle-sheet, narrow", "", [make("gyle-sheet", { session, name: "mash", formulas: true })], "narrow");
show("gyle-front", "The front page.", [make("gyle-front", { session })]);
show("gyle-head", "", [make("gyle-head", { session, kept: "kept on this device" })]);
show("gyle-path", "", [make("gyle-path", { session, here: "mash" })], "narrow");
show(
  "gyle-keypad",
  "For a temperature and for a weight.",
  [make("gyle-keypad", { extra: ["°C", "°F"] }), make("gyle-keypad", { extra: ["kg", "lb", "oz"] })],
  "narrow",
);
show("gyle-brewing-view", "", [make("gyle-brewing-view", { session, here: "mash" })], "tall narrow");
show("gyle-formula-editor", "A formula that is ready, one that waits, one with a fault and its mend.", [
  ...["strike_water / grain as L/kg", "rest_measured + 1 Δ°C", "strike_water / (6 gal)"].map((formula) =>
    make("gyle-formula-editor", { session, context: { sheet: "mash", cell: "mash_ratio" }, formula, label: "Formula" }),
  ),
]);
show("gyle-working", "The working of a result and of one that is faulty.", [
  make("gyle-working", { session, name: "mash.strike_temp" }),
  make("gyle-working", { session, name: "mash.bad" }),
]);
show("gyle-first-run", "", [make("gyle-first-run", {})]);
const slip = make("gyle-slip", {});
show("gyle-slip, gyle-menu, gyle-form", "Opened by these buttons.", [
  slip,
  button("Say something", () => slip.say("Malt in was deleted. Undo brings it back.")),
  button("Say a fault", () => slip.say("The file is no longer where it was.", true)),
  button("Open a menu", (at) =>
    openMenu(at, [
      { label: "Duplicate", run: () => slip.say("Duplicated.") },
      { label: "Delete", grave: true, run: () => slip.say("Deleted.") },
    ]),
  ),
  button(
    "Ask something",
    (at) =>
      void ask(at, {
        heading: "New line",
        fields: [{ name: "label", label: "What it is called", hint: "Strike water" }],
        submit: "Add the line",
      }),
  ),
]);
show("gyle-workbook", "All of it.", [make("gyle-workbook", { text: SHOWN_BOOK })], "tall");
