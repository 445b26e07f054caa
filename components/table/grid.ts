/** A place in a table: row and column from 0. */
export interface Place {
  readonly row: number;
  readonly column: number;
}

/** The stretch between two places, ends included. */
export interface Stretch {
  readonly top: number;
  readonly bottom: number;
  readonly left: number;
  readonly right: number;
}

export const stretchOf = (a: Place, b: Place): Stretch => ({
  top: Math.min(a.row, b.row),
  bottom: Math.max(a.row, b.row),
  left: Math.min(a.column, b.column),
  right: Math.max(a.column, b.column),
});

export const holds = ({ top, bottom, left, right }: Stretch, row: number, column: number): boolean =>
  row >= top && row <= bottom && column >= left && column <= right;

type Move = Pick<KeyboardEvent, "key" | "ctrlKey" | "metaKey">;

/** Where a key leads that keeps what is typed: Enter down, Tab on or back; null: it does not keep. */
export const stepAfter = ({ key, shiftKey }: Pick<KeyboardEvent, "key" | "shiftKey">): Move | null => {
  const arrow = key === "Enter" ? "Down" : key !== "Tab" ? null : shiftKey ? "Left" : "Right";
  return arrow === null ? null : { key: `Arrow${arrow}`, ctrlKey: false, metaKey: false };
};

/** Rows that Page Up and Page Down pass. */
const PAGE = 10;

/** Where a key leads from a place in a table of so many rows and columns; null: the key does not move. */
export const moveBy = (event: Move, from: Place, rows: number, columns: number): Place | null => {
  const far = event.ctrlKey || event.metaKey;
  const row = (to: number): Place => ({ row: Math.max(0, Math.min(rows - 1, to)), column: from.column });
  const column = (to: number): Place => ({ row: from.row, column: Math.max(0, Math.min(columns - 1, to)) });
  switch (event.key) {
    case "ArrowDown":
      return row(far ? rows - 1 : from.row + 1);
    case "ArrowUp":
      return row(far ? 0 : from.row - 1);
    case "ArrowRight":
      return column(far ? columns - 1 : from.column + 1);
    case "ArrowLeft":
      return column(far ? 0 : from.column - 1);
    case "PageDown":
      return row(from.row + PAGE);
    case "PageUp":
      return row(from.row - PAGE);
    case "Home":
      return far ? { row: 0, column: 0 } : column(0);
    case "End":
      return far ? { row: Math.max(0, rows - 1), column: columns - 1 } : column(columns - 1);
    default:
      return null;
  }
};

/** The entry that an event is about; null: none. */
export const placeUnder = (event: Event): Place | null => {
  const entry = (event.target as Element).closest<HTMLElement>("[data-row]");
  return entry === null ? null : { row: Number(entry.dataset.row), column: Number(entry.dataset.column) };
};
