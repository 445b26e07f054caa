import { mend } from "../diagnostics/diagnostic.ts";
import * as C from "./characters.ts";
import { readNumber, startsInstant } from "./numbers.ts";
import { readPhrase } from "./phrase.ts";
import { type FigureSlip, slipBehind } from "./slips.ts";
import type { TokenList } from "./token-list.ts";
import type { Figure, LiteralNode, UnitSpeller } from "./tree.ts";

/** `12 lb 4 oz` at `start`: further figures join only while each has a unit. What is wrong with them is told to `list`. */
export function readLiteral(text: string, start: number, speller: UnitSpeller, list: TokenList): LiteralNode {
  const first = readFigure(text, start, speller, list);
  if (first.unit === null) return { node: "literal", span: first.span, negative: false, figures: [first] };
  const figures = [first];
  let end = first.span.end;
  for (;;) {
    const from = C.skipBlanks(text, end);
    if (from === end || !C.isDigit(text.charCodeAt(from)) || startsInstant(text, from)) break;
    const told = list.faults.length;
    const next = readFigure(text, from, speller, list);
    if (next.unit === null) {
      list.faults.length = told;
      break;
    }
    figures.push(next);
    end = next.span.end;
  }
  return { node: "literal", span: { start, end }, negative: false, figures };
}

function readFigure(text: string, start: number, speller: UnitSpeller, list: TokenList): Figure {
  const read = readNumber(text, start, !list.inCall);
  if (read.fault !== null) list.keep(read.fault);
  let { end } = read;
  let from = C.skipBlanks(text, end);
  let code = text.charCodeAt(from);
  const slip = maySlip(code) ? slipBehind(text, start, end, read.value) : null;
  if (slip !== null) {
    list.keep(slip.fault);
    if (slip.unit !== null) return slipped(text, start, slip);
    end = slip.end;
    from = C.skipBlanks(text, end);
    code = text.charCodeAt(from);
  }
  // After a blank, `/` divides; and the commonest signs end the literal without asking the catalogue.
  const none = from >= text.length || (code >= 40 && code <= 46) || (code === 47 && from > end);
  const unit = none ? null : readPhrase(text, from, speller, false);
  const last = unit === null ? end : pastPoint(text, unit.span.end, list);
  const value = slip === null ? read.value : slip.value;
  return { value, text: text.slice(start, end), unit, span: { start, end: last } };
}

/** A quote, a digit, a colon, or a sign beyond the Latin ones: what {@link slipBehind} may know. */
const maySlip = (code: number): boolean => code > 0xbb || code === 34 || code === 39 || code === 58 || C.isDigit(code);

const slipped = (text: string, start: number, { value, end, unit }: FigureSlip): Figure => ({
  value,
  text: text.slice(start, unit?.span.start ?? end),
  unit,
  span: { start, end },
});

/** `5 lb.`: a point behind a unit is taken for none. */
function pastPoint(text: string, end: number, list: TokenList): number {
  if (text.charCodeAt(end) !== 46 || C.isDigit(text.charCodeAt(end + 1)) || C.startsName(text, end + 1)) return end;
  const span = { start: end, end: end + 1 };
  list.tell(span, "A unit has no point behind it.", [mend("Take out the point", span, "")]);
  return end + 1;
}
