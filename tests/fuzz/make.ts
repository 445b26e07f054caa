import type { Edit } from "../../engine/index.ts";
import type { Chance } from "./chance.ts";
import { CALLS, FIGURES, NAMES, OPERATORS, SCRAPS, STRUCTURE, UNITS } from "./words.ts";

/** An operand or more, at most `depth` deep. */
function expression(chance: Chance, depth: number): string {
  const inner = (): string => expression(chance, depth - 1);
  switch (depth <= 0 ? chance.below(3) : chance.below(12)) {
    case 0:
      return chance.pick(FIGURES);
    case 1:
      return `${chance.pick(FIGURES)} ${chance.pick(UNITS)}`;
    case 2:
      return chance.pick(NAMES);
    case 3:
      return `(${inner()})`;
    case 4:
      return `-${inner()}`;
    case 5:
      return `not ${inner()}`;
    case 6:
      return `${chance.pick(CALLS)}(${Array.from({ length: chance.below(4) }, inner).join(", ")})`;
    case 7:
      return `if ${inner()} then ${inner()} else ${inner()}`;
    case 8:
      return `${inner()} as ${chance.pick(UNITS)}`;
    case 9:
      return `(${inner()}) where ${inner()}`;
    default:
      return `${inner()} ${chance.pick(OPERATORS)} ${inner()}`;
  }
}

function tail(chance: Chance): string {
  return chance.some(
    [" by 0.1", " by 1 kg", " within 1 to 2", " within 60 to 70 °C", ' within "a", "b"', " # note", " as kg"],
    2,
  );
}

/** A formula as the grammar has them. */
export const soundFormula = (chance: Chance): string =>
  chance.once(8)
    ? `? ${chance.pick(["", "text", "instant", "truth", `${chance.pick(FIGURES)} `])}${chance.pick(UNITS)}${tail(chance)}`
    : expression(chance, 1 + chance.below(4)) + tail(chance);

const NOISE = (chance: Chance): string => String.fromCharCode(chance.below(chance.once(3) ? 65_536 : 256));

/** Something cut out of a text, doubled, or put into it. */
export function damaged(chance: Chance, text: string, scraps: readonly string[]): string {
  let made = text;
  for (let times = 1 + chance.below(3); times > 0; times -= 1) {
    const from = chance.below(made.length + 1);
    const to = Math.min(made.length, from + chance.below(chance.once(4) ? made.length + 1 : 6));
    const put = [
      (): string => "",
      (): string => made.slice(from, to).repeat(2),
      (): string => chance.pick(scraps),
      (): string => NOISE(chance),
    ];
    made = made.slice(0, from) + chance.pick(put)() + made.slice(to);
  }
  return made;
}

const WITHOUT_LINE_ENDS = /[\r\n]/g;

/** A formula: three in five as the grammar has them, one damaged, one of scraps. In one line. */
export function formula(chance: Chance): string {
  const way = chance.below(5);
  if (way < 3) return soundFormula(chance);
  const made = way === 3 ? damaged(chance, soundFormula(chance), SCRAPS) : chance.some(SCRAPS, 12);
  return made.replace(WITHOUT_LINE_ENDS, " ");
}

/** A file of its own: lines of structure and cells, in any order. */
function ownFile(chance: Chance): string {
  const lines = Array.from({ length: chance.below(14) }, () =>
    chance.once(3)
      ? `${chance.pick(["a", "b", "mass", "x1", "__proto__", "toString"])} = ${formula(chance)}`
      : chance.pick(STRUCTURE),
  );
  const end = chance.pick(["\n", "\n", "\n", "\r\n", "\r"]);
  return (chance.once(3) ? "" : `gylebook 1${end}`) + lines.join(end) + end;
}

/** A file: made up, a known one damaged, or noise. */
export function file(chance: Chance, known: readonly string[]): string {
  const way = chance.below(10);
  if (way < 6) return ownFile(chance);
  if (way < 8) return damaged(chance, ownFile(chance), [...SCRAPS, ...STRUCTURE, "\n", "\r"]);
  if (way === 8) return damaged(chance, chance.pick(known), [...SCRAPS, ...STRUCTURE, "\n", "\r"]);
  const bytes = Uint8Array.from({ length: chance.below(200) }, () => chance.below(256));
  return new TextDecoder().decode(bytes);
}

const PLACES = ["s.mass", "s.volume", "s.ratio", "s.unread", "s.blank", "other.share", "s.nowhere", "s", "batch_date"];
const TABLES = ["s.tab", "S.TAB", "s.none", "other.tab"];
const COLUMNS = ["mass", "gravity", "text", "at", "worked", "none"];

/** Any edit of the book of {@link BOOK}, sound or not. */
export function edit(chance: Chance): Edit {
  const at = chance.once(3) ? null : chance.below(8) - 1;
  const spot = chance.below(8) - 1;
  const sheet = chance.pick(["s", "other", "none", "S"]);
  const table = chance.pick(TABLES);
  const column = chance.pick(COLUMNS);
  const entry = chance.pick([...FIGURES, "", "end", "a, b", '"', "2026-03-02", "64.9 °F", "#", "\n"]);
  const name = chance.pick(["a", "b", "mass", "kg", "__proto__", "", "x y", "größe", "sheet"]);
  const makes: readonly (() => Edit)[] = [
    () => ({ edit: "set-formula", cell: chance.pick(PLACES), formula: formula(chance) }),
    () => ({ edit: "set-formula", cell: chance.pick(PLACES), formula: soundFormula(chance) }),
    () => ({
      edit: "set-label",
      of: chance.pick([...PLACES, ...TABLES, "s.tab.mass"]),
      label: chance.pick([null, "", "L", 'q"', "a\nb"]),
    }),
    () => ({ edit: "rename", of: chance.pick([...PLACES, ...TABLES, "s.tab.mass", "sack", "share"]), name }),
    () => ({ edit: "add-cell", sheet, at, name, label: chance.pick([null, "Label"]), formula: formula(chance) }),
    () => ({ edit: "add-text", sheet, at, text: chance.pick(STRUCTURE) }),
    () => ({ edit: "set-text", sheet, at: spot, text: chance.pick(STRUCTURE) }),
    () => ({ edit: "remove-item", sheet, at: spot }),
    () => ({ edit: "move-item", sheet, at: spot, to: chance.below(8) - 1 }),
    () => ({ edit: "add-sheet", at, name, label: chance.pick([null, "L"]) }),
    () => ({ edit: "remove-sheet", sheet }),
    () => ({ edit: "move-sheet", sheet, to: spot }),
    () => ({ edit: "set-entry", table, row: spot, column, entry }),
    () => ({ edit: "set-entry", table: "s.tab", row: chance.below(3), column, entry }),
    () => ({ edit: "add-rows", table, at, rows: [[entry, entry], [], [entry, "1", "2", "3", "4"]] }),
    () => ({ edit: "remove-rows", table, at: spot, count: chance.below(4) }),
    () => ({ edit: "move-row", table, at: spot, to: chance.below(5) - 1 }),
    () => ({ edit: "add-column", table, at, text: chance.pick(["n : kg", `w = ${formula(chance)}`, "x", "mass : L"]) }),
    () => ({
      edit: "set-column",
      table,
      column,
      text: chance.pick(["mass : L", `worked = ${formula(chance)}`, "at : text"]),
    }),
    () => ({ edit: "remove-column", table, column }),
    () => ({ edit: "set-title", title: chance.pick(["T", "", 'q"uo\nte', "<b>"]) }),
    () => ({ edit: "set-lens", lens: chance.pick(["metric", "US", "imperial", "none", ""]) }),
    () => ({ edit: "set-head", text: chance.pick(STRUCTURE) }),
    () => ({ edit: "remove-head", of: chance.pick(["sack", "share", "title", "zone", "none"]) }),
    () => ({ edit: "empty-blanks" }),
    () => ({ edit: "accept-library" }),
  ];
  return chance.pick(makes)();
}

/** A CSV: entries that readings hold, in any number and order, or noise. */
export function csv(chance: Chance): string | Uint8Array {
  if (chance.once(6)) return Uint8Array.from({ length: chance.below(300) }, () => chance.below(256));
  const comma = chance.pick([",", ";", "\t", "|"]);
  const heads = [
    "Taken",
    "Gravity",
    "SG",
    "Temp (°F)",
    "temp",
    "Tank",
    "Remark",
    "",
    "__proto__",
    "Time (UTC)",
    "a,b",
    '"',
  ];
  const entries = [
    ...["2026-03-02 08:00", "02/03/2026", "3/4/26 8:15 PM", "2026-03-02T08:00Z", "1772438400", "12.1", "17,8", "1,250"],
    ...[
      "1.048",
      "-127",
      "64.9 °F",
      "12 lb 4 oz",
      "",
      "--",
      "Total",
      "1e400",
      '"a\nb"',
      '"',
      "é",
      "\ufffd",
      "\0",
      "=1+1",
    ],
  ];
  const row = (from: readonly string[]): string => chance.some(from, 6, comma);
  const lines = [row(heads), ...Array.from({ length: chance.below(10) }, () => row(entries))];
  return lines.join(chance.pick(["\n", "\r\n", "\r"]));
}
