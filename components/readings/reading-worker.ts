import {
  type Answers,
  bookTable,
  type CsvSource,
  createSession,
  csvSourceOf,
  firstRows,
  lookInto,
  looksAlike,
  type newTableText,
  proposeColumns,
  readInto,
  type Session,
  targetOf,
  troubleIn,
  unitReader,
  unitText,
} from "../../engine/index.ts";
import type { Brings, Came, Csv, Look, Report, Request } from "./messages.ts";

/*
 * Reads CSVs away from the page. One request at a time; whoever no longer wants an answer ends the worker, and nothing is
 * half done, for the worker changes nothing.
 */

/** Rows shown as they will be read. */
const ROWS_SHOWN = 8;
/** Entries of a long list in one report. */
const PART = 2_000;
/** Progress is told this often, in milliseconds. */
const TELL_EVERY = 100;

const tell = (report: Report): void => self.postMessage(report);

/** A file as pieces of bytes from its beginning, as often as it is gone through. */
function sourceOf(csv: Csv): CsvSource {
  if (typeof csv === "string") return csvSourceOf(csv);
  return {
    length: csv.size,
    async *chunks() {
      const reader = csv.stream().getReader();
      for (let piece = await reader.read(); !piece.done; piece = await reader.read()) yield piece.value;
    },
  };
}

/** The book of the last request, and the look at its file: most requests differ from the one before in one answer. */
interface Before {
  readonly book: string;
  readonly session: Session;
}
interface Looked {
  readonly csv: Csv;
  readonly answers: Answers;
  readonly detection: Awaited<ReturnType<typeof lookInto>>;
}

class Reader {
  #before: Before | null = null;
  #looked: Looked | null = null;
  #told = 0;

  readonly #progress = ({ done, of, rows }: { done: number; of: number | null; rows: number }): void => {
    const now = performance.now();
    if (now - this.#told < TELL_EVERY) return;
    this.#told = now;
    tell({ is: "progress", done, of, rows });
  };

  #session(book: string): Session {
    if (this.#before?.book !== book) this.#before = { book, session: createSession(book) };
    return this.#before.session;
  }

  async answer(request: Request): Promise<Came> {
    const { model } = this.#session(request.book);
    const readUnit = unitReader(model.head.units);
    if (request.is === "trouble") {
      const table = bookTable(model, request.table);
      if (table === null) return { is: "refused", says: "There is no such table any more." };
      return { is: "trouble", findings: troubleIn(table) };
    }
    const { csv, answers, columns } = request;
    const source = sourceOf(csv);
    const there = request.table === null ? null : bookTable(model, request.table);
    const kept = request.kept ? (there?.kept ?? null) : null;
    const all = { ...kept?.answers, ...answers };
    if (this.#looked?.csv !== csv || !looksAlike(all, this.#looked.answers)) {
      const detection = await lookInto(source, readUnit, all, { onProgress: this.#progress });
      this.#looked = { csv, answers: all, detection };
    }
    const { detection } = this.#looked;
    if (detection.problem !== null) return { is: "refused", says: detection.problem };
    const newColumns = there === null ? (columns ?? proposeColumns(detection, readUnit)) : null;
    const table = there ?? newTable(newColumns ?? [], model.head.zone?.name ?? null, readUnit);
    if (table === null) return { is: "refused", says: "A column of the new table has a unit that is not known." };
    const read = await readInto(source, table.target, table.existing, readUnit, {
      answers,
      looked: detection,
      onProgress: this.#progress,
      ...(kept === null ? {} : { kept }),
    });
    if (read.is === "refused") return read;
    if (read.is === "stopped") return { is: "refused", says: "The reading was stopped." };
    const { proposed } = read;
    const labels = new Map(table.target.columns.map(({ name, label }) => [name, label]));
    const look: Look = {
      columns: table.target.columns.map(({ name, label, unit }) => ({ name, label, unit: unitText(unit) })),
      rows: await firstRows(source, proposed.mapping, table.target, readUnit, ROWS_SHOWN),
      questions: proposed.questions,
      settled: [
        ...proposed.answered.map((question) => ({ question, value: proposed.mapping.answers[question.about] ?? "" })),
        ...proposed.settled,
      ],
      notes: proposed.notes,
      unread: proposed.unread,
      unfilled: proposed.unfilled.map((name) => labels.get(name) ?? name),
      against: read.is === "asks" ? read.against : [],
      byKept: kept !== null && !read.putAside && (read.is === "read" || read.against.length === 0),
      newColumns,
    };
    if (read.is === "asks") return { is: "asks", look };
    return { is: "read", look, brings: inParts({ ...read.merge, mapping: read.mapping }) };
  }
}

function newTable(
  columns: Parameters<typeof newTableText>[1],
  zone: string | null,
  readUnit: ReturnType<typeof unitReader>,
): Pick<NonNullable<ReturnType<typeof bookTable>>, "target" | "existing"> | null {
  const target = targetOf(columns, zone, readUnit);
  if (target === null) return null;
  return { target, existing: { rows: 0, columns: columns.map(() => new Float64Array()), entries: () => [] } };
}

/** Sends the long lists ahead; gives the rest. */
function inParts(brings: Brings): Brings {
  const { changed, rejected } = brings;
  for (let at = 0; at < Math.max(changed.length, rejected.length); at += PART)
    tell({ is: "part", changed: changed.slice(at, at + PART), rejected: rejected.slice(at, at + PART) });
  return { ...brings, changed: [], rejected: [] };
}

const reader = new Reader();

self.addEventListener("message", (event: MessageEvent<Request>) => {
  reader
    .answer(event.data)
    .catch(
      (): Came => ({
        is: "refused",
        says: "The file cannot be read. It may have been moved, deleted or changed since it was chosen: choose it again.",
      }),
    )
    .then((came) => tell({ is: "came", came }));
});
