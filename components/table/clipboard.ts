/**
 * Rows as programs put them on the clipboard: tab-separated where a tab is found outside quotes, else comma- or
 * semicolon-separated; entries with separators, quotes or line ends are quoted with `"`, quotes doubled (RFC 4180).
 */
export const rowsFromClipboard = (text: string): string[][] => {
  const plain = text.replace(/\r\n|\r/g, "\n").replace(/\n$/, "");
  const bare = plain.replace(/"(?:[^"]|"")*"/g, "");
  const separator = bare.includes("\t")
    ? "\t"
    : bare.includes(";")
      ? ";"
      : bare.includes(",") && !/^[^\n,]*,\d+(?:\s*\S*)?$/.test(bare)
        ? ","
        : "\t";
  const rows: string[][] = [];
  let row: string[] = [];
  let entry = "";
  let inQuotes = false;
  const endEntry = (): void => {
    row.push(entry.trim());
    entry = "";
  };
  for (let at = 0; at < plain.length; at += 1) {
    const sign = plain[at] ?? "";
    if (inQuotes) {
      if (sign !== '"') entry += sign;
      else if (plain[at + 1] === '"') {
        entry += sign;
        at += 1;
      } else inQuotes = false;
    } else if (sign === '"' && entry.trim() === "") {
      entry = "";
      inQuotes = true;
    } else if (sign === separator) endEntry();
    else if (sign === "\n") {
      endEntry();
      rows.push(row);
      row = [];
    } else entry += sign;
  }
  endEntry();
  rows.push(row);
  return rows;
};

const guarded = (entry: string): string => (/[\t\n\r"]/.test(entry) ? `"${entry.replaceAll('"', '""')}"` : entry);

/** Rows as tab-separated text that other programs read. */
export const clipboardFromRows = (rows: readonly (readonly string[])[]): string =>
  rows.map((row) => row.map(guarded).join("\t")).join("\n");
