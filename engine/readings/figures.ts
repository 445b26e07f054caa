/** The marks in the figures of one file. Empty `thousands`: figures are not grouped. */
export interface Marks {
  readonly decimal: "." | ",";
  readonly thousands: "" | "," | "." | " " | "'";
}

export const PLAIN_MARKS: Marks = { decimal: ".", thousands: "" };

/** Powers of ten that are exact in float64; a mantissa below 2^53 divided by one of them is correctly rounded (Clinger 1990). */
const EXACT_TENS = Float64Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));
const LARGEST_EXACT = 2 ** 53;

/** Blank, no-break space, tab, and the narrow and figure spaces. */
const isBlank = (code: number): boolean =>
  code === 32 || code === 160 || code === 9 || code === 0x202f || code === 0x2007;

/** Whether `code` groups digits under the mark `group`; a blank mark stands for every kind of blank, an apostrophe for both kinds. */
const groups = (code: number, group: number): boolean =>
  code === group || (group === 32 && isBlank(code)) || (group === 39 && code === 0x2019);

const codeOf = (mark: string): number => (mark === "" ? -1 : mark.charCodeAt(0));

/**
 * The figure that `text` is, outer blanks aside, or NaN when it is none. A sign, digits in groups of three where grouped,
 * one decimal mark, an exponent; nothing else. Reads character codes and makes no text.
 */
export function readFigure(text: string, marks: Marks): number {
  const decimal = codeOf(marks.decimal);
  const group = codeOf(marks.thousands);
  let at = 0;
  let end = text.length;
  while (at < end && isBlank(text.charCodeAt(at))) at += 1;
  while (end > at && isBlank(text.charCodeAt(end - 1))) end -= 1;
  const first = text.charCodeAt(at);
  const negative = first === 45 || first === 0x2212;
  if (negative || first === 43) at += 1;
  let mantissa = 0;
  let digits = 0;
  let decimals = -1;
  let grouped = -1;
  let exponent = 0;
  for (; at < end; at += 1) {
    const code = text.charCodeAt(at);
    if (code >= 48 && code <= 57) {
      mantissa = mantissa * 10 + (code - 48);
      digits += 1;
      if (decimals >= 0) decimals += 1;
      else if (grouped >= 0) grouped += 1;
    } else if (code === decimal && decimals < 0) {
      if (grouped >= 0 && grouped !== 3) return Number.NaN;
      grouped = -1;
      decimals = 0;
    } else if (decimals < 0 && digits > 0 && groups(code, group)) {
      if (grouped < 0 ? digits > 3 : grouped !== 3) return Number.NaN;
      grouped = 0;
    } else if ((code === 101 || code === 69) && digits > 0) {
      exponent = readExponent(text, at + 1, end);
      break;
    } else return Number.NaN;
  }
  if (digits === 0 || (grouped >= 0 && grouped !== 3) || Number.isNaN(exponent)) return Number.NaN;
  const scale = exponent - Math.max(0, decimals);
  let value: number;
  if (mantissa < LARGEST_EXACT && scale <= 22 && scale >= -22) {
    value = scale < 0 ? mantissa / (EXACT_TENS[-scale] ?? 1) : mantissa * (EXACT_TENS[scale] ?? 1);
  } else value = Math.abs(Number(plainFigure(text, marks)));
  if (!Number.isFinite(value)) return Number.NaN;
  return negative ? -value : value;
}

/**
 * The figure of a text that stands as a workbook writes it: digits, perhaps a minus before and a point between them, no
 * needless zero; NaN for every other text. Most entries are so, and one pass tells.
 */
export function readPlain(text: string): number {
  const first = text.charCodeAt(0) === 45 ? 1 : 0;
  const last = text.length - 1;
  let mantissa = 0;
  let point = -1;
  for (let at = first; at <= last; at += 1) {
    const digit = text.charCodeAt(at) - 48;
    if (digit >= 0 && digit <= 9) mantissa = mantissa * 10 + digit;
    else if (digit === -2 && point < 0 && at > first) point = at;
    else return Number.NaN;
  }
  const hasNeedlessZero = last > first && text.charCodeAt(first) === 48 && point !== first + 1;
  if (last < first || point === last || hasNeedlessZero || mantissa >= LARGEST_EXACT) return Number.NaN;
  const value = point < 0 ? mantissa : mantissa / (EXACT_TENS[last - point] ?? Number.NaN);
  return first === 1 ? -value : value;
}

function readExponent(text: string, from: number, end: number): number {
  const sign = text.charCodeAt(from);
  let at = sign === 43 || sign === 45 ? from + 1 : from;
  if (at >= end || end - at > 3) return Number.NaN;
  let value = 0;
  for (; at < end; at += 1) {
    const code = text.charCodeAt(at);
    if (code < 48 || code > 57) return Number.NaN;
    value = value * 10 + (code - 48);
  }
  return sign === 45 ? -value : value;
}

/** The same figure as a workbook writes it: point, no groups, ASCII minus, no needless zeros before, a digit on both sides of the point. */
export function plainFigure(text: string, marks: Marks): string {
  let plain = text.trim().replace("\u2212", "-").replace(/^\+/, "");
  if (marks.thousands === " ") plain = plain.replace(/[\s\u202f\u2007\u00a0]/g, "");
  else if (marks.thousands === "'") plain = plain.replace(/['\u2019]/g, "");
  else if (marks.thousands !== "") plain = plain.replaceAll(marks.thousands, "");
  if (marks.decimal === ",") plain = plain.replace(",", ".");
  return plain
    .replace(/^(-?)0+(?=\d)/, "$1")
    .replace(/^(-?)\./, "$10.")
    .replace(/\.(?=$|[eE])/, "");
}

/** Moves the decimal point `places` to the left, exactly, as text: `1048` by 3 is `1.048`. Exponents are left to {@link readFigure}. */
export function shiftPoint(plain: string, places: number): string {
  if (places === 0 || /[eE]/.test(plain)) return places === 0 ? plain : String(Number(plain) / 10 ** places);
  const negative = plain.startsWith("-");
  const [whole = "", fraction = ""] = (negative ? plain.slice(1) : plain).split(".");
  const digits = whole.padStart(places + 1, "0");
  const cut = digits.length - places;
  const head = digits.slice(0, cut).replace(/^0+(?=\d)/, "");
  return `${negative ? "-" : ""}${head}.${digits.slice(cut)}${fraction}`;
}
