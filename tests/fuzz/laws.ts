import { makeLink, readLink } from "../../components/storage/link.ts";
import { complete, type Edit, type Lens, preview, working } from "../../engine/index.ts";
import { detect } from "../../engine/readings/detect.ts";
import { existingRows } from "../../engine/readings/existing.ts";
import { mergeReading } from "../../engine/readings/merge.ts";
import { proposeMapping } from "../../engine/readings/propose.ts";
import { readCsv } from "../../engine/readings/read.ts";
import { sourceOf } from "../../engine/readings/source.ts";
import { Session } from "../../engine/session.ts";
import { createLanguage } from "../../engine/workbook/language.ts";
import { tidyText } from "../../engine/workbook/tidy.ts";
import { addsUp, knowsUnit, readUnit, target } from "../readings/support.ts";

const language = createLanguage();

/** Opens a text with the language that all share: making it takes longer than opening a short book. */
export const open = (text: string, lens: Lens | null = null): Session => new Session(text, lens, language);

/** A law that an input broke. */
export class Broken extends Error {}

function holds(condition: boolean, says: string): asserts condition {
  if (!condition) throw new Broken(says);
}

/** Words that only a program would show. */
const SLIPS = /\bNaN\b|Infinity|undefined|\[object|-0(?![.\d])/;

const STATES = ["ready", "waiting", "faulty"];

/** A result as a reader sees it; whatever is ready has a figure that can be shown. */
function checkResult(session: Session, name: string): string {
  const cell = session.cell(name);
  if (cell === null) return "";
  holds(STATES.includes(cell.state), `${name} has a state`);
  const { value, shown, formula } = cell;
  if (cell.state === "ready") {
    holds(value !== null, `${name} is ready and has a value`);
    if (typeof value === "number") holds(Number.isFinite(value), `${name} is a finite figure`);
    if (typeof value === "number") holds(!SLIPS.test(shown), `${name} is shown as ${shown}`);
  } else holds(value === null && shown === "", `${name} is not ready and shows nothing`);
  if (cell.state === "waiting") holds(cell.waitingFor.length > 0, `${name} names what it waits for`);
  if (cell.state === "faulty") holds(cell.faults.length > 0 || cell.because !== null, `${name} says why it is faulty`);
  for (const { span } of cell.faults)
    holds(span.start >= 0 && span.end >= span.start && span.end <= formula.length, `a fault of ${name} lies in it`);
  return `${cell.state} ${shown} ${cell.kindName} ${cell.waitingFor.join()} ${cell.because}`;
}

/** Names of all lines of a session. */
export const linesOf = (session: Session): string[] =>
  session.workbook.sheets.flatMap(({ name, pages }) =>
    pages.flat().flatMap((item) => (item.is === "cell" ? [`${name}.${item.name}`] : [])),
  );

/** All that a session shows, by line and table. */
export function shownBy(session: Session): Map<string, string> {
  const shown = new Map<string, string>();
  for (const name of linesOf(session)) shown.set(name, checkResult(session, name));
  for (const { name, pages } of session.workbook.sheets)
    for (const item of pages.flat()) {
      if (item.is !== "table") continue;
      const table = session.table(`${name}.${item.name}`);
      for (const column of table?.columns ?? [])
        shown.set(
          column.fullName,
          `${column.state} ${column.kindName} ${column.value === null ? "" : [...(column.value as Float64Array)].join()}`,
        );
    }
  return shown;
}

/** A formula that is typed into a line of `session`, which is as it was before when this returns. */
export function tryFormula(session: Session, text: string): void {
  const seen = preview(session.model, session.lens, { sheet: "s", cell: "ratio" }, text);
  for (const { span, mends } of seen.faults)
    for (const place of [span, ...mends.flatMap(({ replace }) => replace.map((one) => one.span))])
      holds(place.start >= 0 && place.end >= place.start && place.end <= text.length, "a fault lies in the formula");
  holds(
    !(seen.kindName.startsWith("number") || seen.shown.endsWith("kg")) || !SLIPS.test(seen.shown),
    `it is shown as ${seen.shown}`,
  );
  if (seen.state === "faulty") holds(seen.faults.length > 0 || seen.because !== null, "it says why it is faulty");
}

/** The same formula kept in its line, where it shows what was foretold, and taken back. */
export function keepFormula(session: Session, text: string): void {
  const before = session.text();
  const seen = preview(session.model, session.lens, { sheet: "s", cell: "ratio" }, text);
  const outcome = session.dispatch({ edit: "set-formula", cell: "s.ratio", formula: text });
  if (!outcome.ok) {
    holds(outcome.says !== "" && session.text() === before, "what is refused says why and changes nothing");
    return;
  }
  checkResult(session, "s.ratio");
  const kept = session.cell("s.ratio");
  const alike = kept === null || (kept.state === seen.state && (kept.shown === seen.shown || kept.shown.includes("…")));
  holds(alike || text.trim() === "", `kept it is ${kept?.state} ${kept?.shown}, foretold ${seen.state} ${seen.shown}`);
  working(session.model, session.lens, "s.ratio");
  complete(session.model, { sheet: "s", cell: "ratio" }, text, Math.floor(text.length / 2));
  for (const { span } of session.tokens(text)) holds(span.end <= text.length, "a colour lies in the formula");
  for (const name of ["s.ratio", "s.blank", "s.gravity"]) {
    const understood = session.understand(name, text);
    if ("ok" in understood && !understood.ok) holds(understood.says !== "", "what is not understood says why");
  }
  session.undo();
  holds(session.text() === before, "taken back, the file is as it was");
}

/** Any text opened as a file: kept to the character, every line standing somewhere. `whole`: also tidied, which must be stable. */
export function tryFile(text: string, whole: boolean): void {
  const session = open(text);
  if (session.refusal !== null) {
    holds(session.workbook.sheets.length === 0, "a refused file leaves an empty book");
    return;
  }
  holds(session.text() === text, "the file is kept to the character");
  shownBy(session);
  for (const { fault, message } of session.problems().faults)
    holds(message !== "" && fault.code !== undefined, "a fault is worded");
  if (!whole) return;
  const tidy = tidyText(text, language);
  holds(tidyText(tidy, language) === tidy, "tidying twice is tidying once");
}

/** Everything that needs a line, directly or not, by name. */
function usersOf(session: Session, name: string): Set<string> {
  const found = new Set([name]);
  for (const at of found) for (const user of session.dependants(at)) found.add(user);
  return found;
}

/** One line's formula is damaged in the file: every line that does not need it shows what it showed. */
export function damageLine(
  text: string,
  session: Session,
  shown: ReadonlyMap<string, string>,
  name: string,
  junk: string,
): void {
  const cell = session.cell(name);
  if (cell === null) return;
  const [sheet = "", line = ""] = name.split(".");
  const lines = text.split("\n");
  const inSheet = lines.findIndex((one) => one === `sheet ${sheet}` || one.startsWith(`sheet ${sheet} `));
  const at = lines.findIndex(
    (one, index) => index > inSheet && (one.startsWith(`${line} =`) || one.startsWith(`${line} "`)),
  );
  holds(at > inSheet, `${name} is found in the file`);
  const old = lines[at] as string;
  lines[at] = `${old.slice(0, old.indexOf("= "))}= ${junk}`;
  const damaged = open(lines.join("\n"));
  if (damaged.refusal !== null) return;
  const touched = new Set([...usersOf(session, name), ...usersOf(damaged, name)]);
  const now = shownBy(damaged);
  for (const [other, was] of shown)
    if (!touched.has(other)) holds(now.get(other) === was, `${other} was ${was} and is ${now.get(other)}`);
}

/** Edits one after the other: none throws, the results are those of the file opened anew, and undoing brings the file back. */
export function tryEdits(start: string, edits: readonly Edit[]): void {
  const session = open(start);
  for (const edit of edits) {
    const before = session.text();
    const outcome = session.dispatch(edit);
    if (!outcome.ok)
      holds(outcome.says !== "" && session.text() === before, "what is refused says why and changes nothing");
  }
  const text = session.text();
  const anew = open(text, session.lens);
  holds(anew.refusal === null, "what was edited opens");
  const [now, then] = [shownBy(session), shownBy(anew)];
  for (const [name, shows] of then)
    holds(now.get(name) === shows, `${name} shows ${now.get(name)}, opened anew ${shows}`);
  while (session.undo());
  holds(session.text() === start, "undoing everything brings the file back");
}

const TABLE = target("taken: instant, gravity: °P, temp: °C, remark: text");

/** A CSV read in with the mapping that is proposed, whatever is asked: a sentence, or counts that add up. */
export async function tryCsv(csv: string | Uint8Array): Promise<void> {
  const detection = await detect(sourceOf(csv), knowsUnit);
  if (detection.problem !== null) return holds(detection.problem !== "", "a refused file says why");
  const { mapping } = proposeMapping(detection, TABLE, readUnit);
  const read = await readCsv(sourceOf(csv), mapping, TABLE, readUnit);
  if ("problem" in read) return holds(read.problem !== "", "a reading that fails says why");
  const merge = mergeReading(read, existingRows([], TABLE, readUnit), mapping, TABLE);
  holds(addsUp(merge), "every row is added, changed, the same or rejected");
}

/** A text in a link there and back, and the link changed at one place: told, or the same text. */
export async function tryLink(text: string, at: number, put: string): Promise<void> {
  const link = await makeLink(text, "https://brewery.example/");
  holds(link.is === "link", "a short book fits a link");
  const read = await readLink(link.url);
  const same = new TextDecoder("utf-8", { ignoreBOM: true }).decode(new TextEncoder().encode(text));
  holds(read.is === "text" && read.text === same, "the link opens the same book");
  const start = link.url.indexOf("#") + 1;
  const place = start + Math.floor(at * (link.url.length - start));
  const changed = await readLink(link.url.slice(0, place) + put + link.url.slice(place + 1));
  holds(changed.is !== "text" || changed.text === same, "a changed link is told");
}
