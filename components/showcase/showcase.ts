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
const cellar = session.workbook.sheets.filter(({ name }) => name === "cellar").flatMap(({ pages }) => pages.flat());

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

show(
  "gyle-table",
  "Measured and worked columns, an entry in another unit, a missing one, one that is faulty; measured ones alone.",
  cellar
    .filter((item) => item.is === "table")
    .map((item) => make("gyle-table", { session, name: `cellar.${item.name}`, item })),
);
show(
  "gyle-plot",
  "One that waits for a faulty column; one of two units and two axes, where the arrows read the points.",
  cellar.filter((item) => item.is === "plot").map((item) => make("gyle-plot", { session, sheet: "cellar", item })),
);

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
show(
  "gyle-trouble",
  "What in the readings does not look like a reading: nothing, a failed probe and a gap.",
  ["cellar.readings", "cellar.probe"].map((table) => Object.assign(new GyleTrouble(), { session, table })),
);

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
show(
  "gyle-brewing-view",
  "Opened by this button, for it goes to its first reading.",
  [button("Brew", (at) => at.replaceWith(make("gyle-brewing-view", { session, here: "mash" })))],
  "tall",
);
show(
  "gyle-formula-editor",
  "Opened by these buttons, for it takes the focus: a formula that is ready, one that waits, one with a fault and its mend.",
  Object.entries({
    Ready: "strike_water / grain as L/kg",
    Waiting: "rest_measured + 1 Δ°C",
    "Faulty, with its mend": "strike_watr / grain",
  }).map(([label, formula]) =>
    button(label, (at) =>
      at.replaceWith(
        make("gyle-formula-editor", {
          session,
          context: { sheet: "mash", cell: "mash_ratio" },
          formula,
          label: "Formula",
        }),
      ),
    ),
  ),
);
show("gyle-working", "The working of a result and of one that is faulty.", [
  make("gyle-working", { session, name: "mash.strike_temp" }),
  make("gyle-working", { session, name: "mash.bad" }),
]);
show("gyle-first-run", "", [make("gyle-first-run", {})]);
const slip = make("gyle-slip", {});
document.body.append(slip);
show("gyle-slip, gyle-menu, gyle-form", "Opened by these buttons.", [
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
    () =>
      void ask(document.body, {
        heading: "New line",
        fields: [{ name: "label", label: "What it is called", hint: "Strike water" }],
        submit: "Add the line",
      }),
  ),
]);
show("gyle-workbook", "All of it.", [make("gyle-workbook", { text: SHOWN_BOOK })], "tall");
