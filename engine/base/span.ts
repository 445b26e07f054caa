/** A half-open stretch of a text, in UTF-16 offsets from its start; `end` is past the last character. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** The smallest span that covers both. */
export const cover = (a: Span, b: Span): Span => ({ start: Math.min(a.start, b.start), end: Math.max(a.end, b.end) });

/** The same span after `by` characters were put before the text it points into. */
export const shift = (span: Span, by: number): Span => ({ start: span.start + by, end: span.end + by });

/** A 1-based place as an editor shows it; columns and lengths count code points. */
export interface Place {
  readonly line: number;
  readonly column: number;
  readonly length: number;
}

const codePoints = (text: string): number => {
  let count = 0;
  for (const _ of text) count += 1;
  return count;
};

/** Where `span` lies in `text`: line ends are LF, CRLF or CR. A span that crosses lines is measured to its first line's end. */
export function placeOf(text: string, span: Span): Place {
  let line = 1;
  let lineStart = 0;
  const start = Math.min(span.start, text.length);
  for (let at = 0; at < start; at += 1) {
    const code = text.charCodeAt(at);
    if (code === 10 || (code === 13 && text.charCodeAt(at + 1) !== 10)) {
      line += 1;
      lineStart = at + 1;
    }
  }
  const covered = text.slice(start, Math.max(start, span.end)).split(/\r\n|\r|\n/, 1)[0] ?? "";
  return { line, column: codePoints(text.slice(lineStart, start)) + 1, length: codePoints(covered) };
}
