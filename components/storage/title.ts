/** A title as the head of a file writes it: the word, then text in which `""` is a quote, `\n` a line break and `\\` a backslash. */
const TITLE = /^[ \t]*title[ \t]+"((?:[^"\r\n]|"")*)"/m;

/** Where the head ends: the first sheet. A cell may be named `sheet`, but then `=` follows. */
const FIRST_SHEET = /^[ \t]*sheet[ \t]+(?!=)[^\s"=]+[ \t]*(?:"(?:[^"\r\n]|"")*"[ \t]*)?(?:#.*)?$/m;

/** What no common file system takes in a name, control characters included. */
const NOT_IN_NAMES = /[\p{Cc}<>:"/\\|?*]+/gu;

/** File names may have 255 bytes on common file systems; a character has at most four in UTF-8. */
const LONGEST_NAME = 60;

const headOf = (text: string): string => {
  const end = FIRST_SHEET.exec(text)?.index;
  return end === undefined ? text : text.slice(0, end);
};

/** The title in a file's head; null where it has none. */
export function titleOf(text: string): string | null {
  const written = TITLE.exec(headOf(text))?.[1];
  const title = written?.replaceAll('""', '"').replace(/\\(n|\\)/g, (_, sign: string) => (sign === "n" ? " " : "\\"));
  return title === undefined || title.trim() === "" ? null : title.trim();
}

/** The file with another title, and nothing else changed. A file without one gets it after its `gylebook` and `library` lines. */
export function retitled(text: string, title: string): string {
  const escaped = title
    .replace(/\\(?=[n\\])/g, "\\\\")
    .replaceAll('"', '""')
    .replace(/[\r\n]+/g, " ");
  const line = `title "${escaped}"`;
  const head = headOf(text);
  if (TITLE.test(head)) return head.replace(TITLE, () => line) + text.slice(head.length);
  const end = /\r\n|\n|\r/.exec(text)?.[0] ?? "\n";
  const first = /^\uFEFF?(?:(?:gylebook|library)[ \t]+\d+[^\r\n]*(?:\r\n|\n|\r|$))*/.exec(text)?.[0] ?? "";
  const gap = first === "" || /[\r\n\uFEFF]$/.test(first) ? "" : end;
  return first + gap + line + end + text.slice(first.length);
}

/**
 * A title for the next gyle: the last whole number in it, one higher, with as many digits as before; or ` 2` after it.
 * Goes on until a title is found that is not among `taken`.
 */
export function nextTitle(title: string, taken: readonly string[]): string {
  const used = new Set(taken.map((each) => each.trim().toLowerCase()));
  let next = title.trim();
  do {
    const [, before = "", digits = "", after = ""] = /^(.*?)(\d{1,15})(\D*)$/su.exec(next) ?? [];
    next =
      digits === "" ? `${next} 2`.trim() : before + String(Number(digits) + 1).padStart(digits.length, "0") + after;
  } while (used.has(next.toLowerCase()));
  return next;
}

/** A file name for a book of this title, on any common file system. */
export function fileNameOf(title: string | null): string {
  const name = [...(title ?? "").replace(NOT_IN_NAMES, " ").replace(/\s+/g, " ")].slice(0, LONGEST_NAME).join("");
  return `${name.replace(/^[. ]+|[. ]+$/g, "") || "brew book"}.gyle`;
}
