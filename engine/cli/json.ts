import { type Place, placeOf, shift } from "../base/span.ts";
import type { Caution, Fault } from "../diagnostics/diagnostic.ts";
import { wordCaution, wordFault } from "../diagnostics/wording.ts";
import type { Session } from "../session.ts";
import { printUnit } from "../units/compound.ts";
import { cleanFigure, fromCoherent } from "../units/convert.ts";
import type { ShownUnit } from "../units/unit.ts";
import { isInstant, type Kind } from "../values/kind.ts";
import { isoInstant } from "../values/show.ts";
import { isColumn } from "../values/value.ts";
import type { CellItem, TableItem } from "../workbook/document.ts";
import { formulaOffset, nameSpan, pageOffset, placedItems } from "../workbook/places.ts";
import type { CellResult, ColumnResult } from "../workbook/result.ts";
import type { RowFault } from "../workbook/tables.ts";

/** A fault with its place in the file, or in the formula for one that was given on the command line. */
export interface FaultJson extends Place {
  readonly code: string;
  readonly message: string;
}
interface CautionJson {
  readonly code: string;
  readonly message: string;
}

type Scalar = number | string | boolean | null;

interface Standing {
  readonly state: string;
  readonly kind: string;
  readonly unit: string | null;
  readonly waitingFor: readonly string[];
  /** Only where a log that it waits for has too few entries. */
  readonly tooFew?: string;
  readonly because: string | null;
  readonly faults: readonly FaultJson[];
  readonly cautions: readonly CautionJson[];
}
export type CellJson = Standing & {
  readonly name: string;
  readonly label: string;
  readonly value?: Scalar;
  readonly values?: readonly Scalar[];
  readonly shown: string;
};
export type ColumnJson = Standing & {
  readonly name: string;
  readonly label: string;
  readonly values: readonly Scalar[];
};

/** What `calc --json` prints. */
export interface WorkbookJson {
  readonly format: 1;
  readonly title: string;
  readonly lens: string;
  readonly faults: readonly FaultJson[];
  readonly cautions: readonly CautionJson[];
  readonly cells: readonly CellJson[];
  readonly tables: readonly { readonly name: string; readonly rows: number; readonly columns: readonly ColumnJson[] }[];
}

/** One value in the unit named beside it: full precision, never NaN or Infinity; instants ISO text, truths booleans. */
function scalar(session: Session, value: number | string | null, kind: Kind, unit: ShownUnit | null): Scalar {
  if (value === null || Number.isNaN(value)) return null;
  if (typeof value === "string") return value;
  if (kind.is === "truth") return value !== 0;
  if (isInstant(kind)) return isoInstant(value, kind, session.model.head.zone);
  const figure = cleanFigure(unit === null ? value : fromCoherent(value, unit));
  return Number.isFinite(figure) ? figure : null;
}

const cautionJson = (caution: Caution): CautionJson => ({ code: caution.code, message: wordCaution(caution) });

/** Places faults of formulas in the file's text. */
class Places {
  readonly #text: string;
  readonly #starts = new Map<unknown, number>();

  constructor(session: Session) {
    this.#text = session.text();
    for (const { item, start } of placedItems(session.workbook)) this.#starts.set(item, start);
  }

  fault(fault: Fault, item: CellItem | TableItem, offset: number): FaultJson {
    const start = this.#starts.get(item) ?? 0;
    const ofName = fault.code === "duplicate-name" || fault.code === "reserved-name";
    const span = ofName ? nameSpan(item, fault.data.name) : shift(fault.span, offset);
    return { code: fault.code, message: wordFault(fault), ...placeOf(this.#text, shift(span, start)) };
  }
}

function standing(result: CellResult | ColumnResult, faults: readonly FaultJson[]): Standing {
  return {
    state: result.state,
    kind: result.kindName,
    unit: result.unit === null ? null : printUnit(result.unit),
    waitingFor: result.waitingFor,
    ...(result.tooFew === null ? {} : { tooFew: result.tooFew }),
    because: result.because,
    faults,
    cautions: result.cautions.map(cautionJson),
  };
}

function cellJson(session: Session, result: CellResult, faults: readonly FaultJson[]): CellJson {
  const { value, unit, type } = result;
  const held =
    value !== null && isColumn(value)
      ? {
          values: Array.from(value as ArrayLike<number | string | null>, (entry) =>
            scalar(session, entry, type.kind, unit),
          ),
        }
      : { value: scalar(session, value, type.kind, unit) };
  return { name: result.name, label: result.label, ...standing(result, faults), ...held, shown: result.shown };
}

/** Where each line and table stands in the file, by full name. */
export function linePlaces(session: Session): ReadonlyMap<string, Place> {
  const text = session.text();
  const starts = new Map<unknown, number>();
  for (const { item, start } of placedItems(session.workbook)) starts.set(item, start);
  const places = new Map<string, Place>();
  for (const [node, origin] of session.model.origins.entries()) {
    if (origin === undefined) continue;
    const item = origin.is === "cell" ? origin.item : origin.table.item;
    const at =
      (starts.get(item) ?? 0) +
      (origin.is === "cell" ? item.source.search(/\S/) : (origin.table.item.columns[origin.column]?.span.start ?? 0));
    places.set(session.model.fullName(node), placeOf(text, { start: at, end: at }));
  }
  return places;
}

/** Everything that a workbook says, as one plain object. */
export function workbookJson(session: Session): WorkbookJson {
  const { model } = session;
  const places = new Places(session);
  const cells: CellJson[] = [];
  const tables = new Map<string, { name: string; rows: number; columns: ColumnJson[] }>();
  for (const [node, origin] of model.origins.entries()) {
    if (origin?.is === "cell") {
      const result = session.results.cellOf(node);
      if (result !== null)
        cells.push(
          cellJson(
            session,
            result,
            result.faults.map((fault) => places.fault(fault, origin.item, formulaOffset(origin.item))),
          ),
        );
    } else if (origin?.is === "column") {
      const { table } = origin;
      const result = session.results.column(node);
      if (result === null) continue;
      const rowFaults: ReadonlyMap<number, RowFault> = result.measured ? table.faultsOf(origin.column) : new Map();
      const own = result.faults.slice(0, result.faults.length - rowFaults.size);
      const faults = [
        ...own.map((fault) => places.fault(fault, table.item, table.item.columns[origin.column]?.formulaStart ?? 0)),
        ...[...rowFaults].map(([row, { fault, page }]) => {
          const placed = places.fault(fault, table.item, pageOffset(table.item, page));
          return { ...placed, message: `Row ${row + 1}: ${placed.message}` };
        }),
      ];
      const name = result.fullName.slice(0, result.fullName.lastIndexOf("."));
      const found = tables.get(table.key) ?? { name, rows: table.rowCount, columns: [] };
      tables.set(table.key, found);
      const values =
        result.value === null
          ? new Array<null>(table.rowCount).fill(null)
          : Array.from(result.value as ArrayLike<number | string | null>, (entry) =>
              scalar(session, entry, result.type.kind, result.unit),
            );
      found.columns.push({ name: result.name, label: result.label, ...standing(result, faults), values });
    }
  }
  const fileFaults = session.problems().fileFaults;
  return {
    format: 1,
    title: session.title,
    lens: session.lens,
    faults: fileFaults,
    cautions: [],
    cells,
    tables: [...tables.values()],
  };
}
