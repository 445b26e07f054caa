/**
 * An edit as data. Names are full and as typed: `mash.grain`, `cellar.readings`, `cellar.readings.gravity`; case does not
 * matter. Rows count from 0. An edit that cannot be applied is refused with a sentence and changes nothing.
 */
export type Edit =
  /** The formula with its tail, as typed; a faulty one is kept too. */
  | { readonly edit: "set-formula"; readonly cell: string; readonly formula: string }
  /** What a sheet, cell, table or column is called on screen; null: it is made from its name. */
  | { readonly edit: "set-label"; readonly of: string; readonly label: string | null }
  /** Renames a sheet, cell, table or column, in every formula too. */
  | { readonly edit: "rename"; readonly of: string; readonly name: string }
  | {
      readonly edit: "add-cell";
      readonly sheet: string;
      readonly at: number | null;
      readonly name: string;
      readonly label: string | null;
      readonly formula: string;
    }
  /** A whole statement as it stands in a file: section, prose, table, plot. `at` counts items; null: at the end. */
  | { readonly edit: "add-text"; readonly sheet: string; readonly at: number | null; readonly text: string }
  /** Replaces the text of one item: prose, section, plot, an unread line, a table's header lines. */
  | { readonly edit: "set-text"; readonly sheet: string; readonly at: number; readonly text: string }
  | { readonly edit: "remove-item"; readonly sheet: string; readonly at: number }
  | { readonly edit: "move-item"; readonly sheet: string; readonly at: number; readonly to: number }
  | { readonly edit: "add-sheet"; readonly at: number | null; readonly name: string; readonly label: string | null }
  | { readonly edit: "remove-sheet"; readonly sheet: string }
  | { readonly edit: "move-sheet"; readonly sheet: string; readonly to: number }
  /** Entries as typed, one per measured column. */
  | {
      readonly edit: "set-entry";
      readonly table: string;
      readonly row: number;
      readonly column: string;
      readonly entry: string;
    }
  | {
      readonly edit: "add-rows";
      readonly table: string;
      readonly at: number | null;
      readonly rows: readonly (readonly string[])[];
    }
  | { readonly edit: "remove-rows"; readonly table: string; readonly at: number; readonly count: number }
  | { readonly edit: "move-row"; readonly table: string; readonly at: number; readonly to: number }
  /** What reading a CSV brings: rows with other entries, new rows as CSV lines in pages (one that begins with a blank stands as it is), and the mapping to keep. */
  | {
      readonly edit: "read-rows";
      readonly table: string;
      readonly changed: readonly { readonly row: number; readonly entries: readonly string[] }[];
      readonly pages: readonly { readonly text: string; readonly count: number }[];
      /** Where the new rows stand, in order: so many of them before this row of the table as it was. The rest stand at the end. */
      readonly places: readonly { readonly before: number; readonly count: number }[];
      readonly mapping: string | null;
      /** All of the table's pages as they will be, made ahead from those that it has; refused where it has others by now. Nothing else is then brought. */
      readonly made?: {
        readonly from: readonly { readonly text: string; readonly count: number }[];
        readonly rows: readonly { readonly text: string; readonly count: number }[];
      };
    }
  /** A column line as it stands in a file: `gravity : °P by 0.1` or `gone = …`; measured columns get empty entries. */
  | { readonly edit: "add-column"; readonly table: string; readonly at: number | null; readonly text: string }
  | { readonly edit: "set-column"; readonly table: string; readonly column: string; readonly text: string }
  | { readonly edit: "remove-column"; readonly table: string; readonly column: string }
  | { readonly edit: "set-title"; readonly title: string }
  | { readonly edit: "set-lens"; readonly lens: string }
  /** A head statement as it stands in a file: `unit sack = 25 kg`, `function …`, `gal means US gal`, `zone …`, `batch_date = …`; replaces the one of the same name. */
  | { readonly edit: "set-head"; readonly text: string }
  | { readonly edit: "remove-head"; readonly of: string }
  /** A new gyle from this one: empties every blank, and every table that takes times, which is a log of readings. */
  | { readonly edit: "empty-blanks" }
  /** Accepts the figures of the library that is running. */
  | { readonly edit: "accept-library" };
