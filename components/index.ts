/** The components' one door: what another page may use. `<gyle-workbook>` is usable alone. */

export { GyleBrewingView } from "./brewing-view/brewing-view.ts";
export { GyleEntry } from "./entry/entry.ts";
export { type Command, type GyleEvents, tell } from "./events.ts";
export { GyleFirstRun } from "./first-run/first-run.ts";
export { ask, type Form, type FormField, GyleForm, type Values } from "./form/form.ts";
export { GyleFormulaEditor } from "./formula-editor/formula-editor.ts";
export { GyleFront } from "./front/front.ts";
export { GyleHead } from "./head/head.ts";
export { GyleKeypad } from "./keypad/keypad.ts";
export { tokens } from "./look/tokens.ts";
export { GyleMenu, type MenuItem, openMenu } from "./menu/menu.ts";
export { GyleOneFigure } from "./one-figure/one-figure.ts";
export { GylePath } from "./path/path.ts";
export { GylePlot } from "./plot/plot.ts";
export { GyleReadings } from "./readings/readings.ts";
export { GyleTrouble, showTrouble } from "./readings/trouble.ts";
export { GyleResult } from "./result/result.ts";
export { GyleSheet } from "./sheet/sheet.ts";
export { GyleSlip } from "./slip/slip.ts";
export { GyleTable } from "./table/table.ts";
export { GyleWorkbook } from "./workbook/workbook.ts";
export { GyleWorking } from "./working/working.ts";
