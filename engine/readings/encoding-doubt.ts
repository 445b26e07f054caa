import { type Encoding, firstNotUtf8 } from "./decode.ts";
import { eachPiece, type Source } from "./source.ts";

/** A file of which some lines are UTF-8 and others are not, as when two exports were put together. */
export interface EncodingDoubt {
  readonly why: string;
  /** A line of either kind, read in both ways. */
  readonly examples: readonly string[];
}

/** The line with the first byte that cannot be UTF-8; 0 for none. */
export async function lineNotUtf8(source: Source): Promise<number> {
  let line = 1;
  for await (const chunk of source.chunks()) {
    if (typeof chunk === "string") return 0;
    // What continues a character of the piece before is no fault of this one.
    let start = 0;
    while (start < 3 && ((chunk[start] ?? 0) & 0xc0) === 0x80) start += 1;
    const wrong = firstNotUtf8(chunk.subarray(start));
    const end = wrong < 0 ? chunk.length : start + wrong;
    for (let at = 0; at < end; at += 1) if (chunk[at] === 10) line += 1;
    if (wrong >= 0) return line;
  }
  return 0;
}

/** What speaks for UTF-8 in a file whose line `wrong` is none: a line with characters beyond ASCII that is; null where there is no such line. */
export async function encodingDoubt(source: Source, wrong: number): Promise<EncodingDoubt | null> {
  const right = await findLine(source, "utf-8", (text) => /[\u0080-\ufffc]/.test(text) && !text.includes("\ufffd"));
  if (right === 0) return null;
  const examples = [];
  for (const line of [right, wrong].sort((a, b) => a - b))
    for (const [encoding, name] of [
      ["utf-8", "UTF-8"],
      ["windows-1252", "Windows-1252"],
    ] as const) {
      let shown = "";
      await findLine(source, encoding, (text, at) => {
        if (at === line) shown = text.trim().slice(0, SHOWN);
        return at === line;
      });
      examples.push(`line ${line} as ${name}: ${shown}`);
    }
  return { why: `Line ${wrong} is not UTF-8 and line ${right} is, as when two exports were put together.`, examples };
}

/** Characters of a line that are shown. */
const SHOWN = 80;

/** The first line for which `is` holds; 0 for none. */
async function findLine(
  source: Source,
  encoding: Encoding,
  is: (text: string, line: number) => boolean,
): Promise<number> {
  let pending = "";
  let line = 0;
  let found = 0;
  const stop = { stopped: false };
  const look = (text: string): void => {
    line += 1;
    if (found > 0 || !is(text, line)) return;
    found = line;
    stop.stopped = true;
  };
  await eachPiece(source, encoding, { stop }, (text) => {
    const lines = (pending + text).split("\n");
    pending = lines.pop() ?? "";
    for (const one of lines) look(one);
    return line;
  });
  if (found === 0) look(pending);
  return found;
}
