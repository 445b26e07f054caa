/** How the bytes of a CSV are turned into characters. */
export type Encoding = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";

export const ENCODINGS: readonly Encoding[] = ["utf-8", "utf-16le", "utf-16be", "windows-1252"];

// The engine sees neither page nor host; this much of the Encoding Standard (WHATWG) both have.
declare const TextDecoder: new (
  label: "utf-8",
  options: { readonly ignoreBOM: boolean },
) => { decode(bytes: Uint8Array, options: { readonly stream: boolean }): string };

/** What the first bytes say. `byteOrderMark` is its length in bytes, 0 for none. */
export interface EncodingProposal {
  readonly encoding: Encoding;
  readonly byteOrderMark: number;
  readonly evidence: string;
}

/** What is said for a file that says itself that it is UTF-8. */
export const MARKED_UTF8 = "a UTF-8 byte-order mark";

/** What is said for bytes that are the same in UTF-8 and in Windows-1252. */
export const PLAIN_BYTES = "all bytes are ASCII";

/** A share of zero bytes that no text in a byte encoding has, and every table of figures in UTF-16 has. */
const ZERO_SHARE = 0.3;

/** The offset of the first byte that cannot be UTF-8, or −1; a character cut at the end is no fault (RFC 3629). */
export function firstNotUtf8(bytes: Uint8Array): number {
  for (let at = 0; at < bytes.length; ) {
    const lead = bytes[at] ?? 0;
    if (lead < 0x80) {
      at += 1;
      continue;
    }
    const length =
      lead >= 0xc2 && lead <= 0xdf ? 2 : lead >= 0xe0 && lead <= 0xef ? 3 : lead >= 0xf0 && lead <= 0xf4 ? 4 : 0;
    if (length === 0) return at;
    for (let next = 1; next < length; next += 1) {
      const byte = bytes[at + next];
      if (byte === undefined) return -1;
      if ((byte & 0xc0) !== 0x80) return at;
    }
    at += length;
  }
  return -1;
}

/** Byte-order mark first, then zero bytes, then whether the bytes are well-formed UTF-8; else Windows-1252. */
export function proposeEncoding(bytes: Uint8Array): EncodingProposal {
  const [a, b, c] = bytes;
  if (a === 0xef && b === 0xbb && c === 0xbf) return { encoding: "utf-8", byteOrderMark: 3, evidence: MARKED_UTF8 };
  if (a === 0xff && b === 0xfe)
    return { encoding: "utf-16le", byteOrderMark: 2, evidence: "a UTF-16 byte-order mark, low byte first" };
  if (a === 0xfe && b === 0xff)
    return { encoding: "utf-16be", byteOrderMark: 2, evidence: "a UTF-16 byte-order mark, high byte first" };
  const zeros = [0, 0];
  for (let at = 0; at < bytes.length; at += 1) if (bytes[at] === 0) zeros[at & 1] = (zeros[at & 1] ?? 0) + 1;
  const [even = 0, odd = 0] = zeros;
  if (odd > bytes.length * ZERO_SHARE)
    return { encoding: "utf-16le", byteOrderMark: 0, evidence: "every second byte is zero" };
  if (even > bytes.length * ZERO_SHARE)
    return { encoding: "utf-16be", byteOrderMark: 0, evidence: "every second byte is zero" };
  const wrong = firstNotUtf8(bytes);
  if (wrong < 0) {
    const isPlain = bytes.every((byte) => byte < 0x80);
    return { encoding: "utf-8", byteOrderMark: 0, evidence: isPlain ? PLAIN_BYTES : "all bytes are well-formed UTF-8" };
  }
  const byte = (bytes[wrong] ?? 0).toString(16).toUpperCase();
  return {
    encoding: "windows-1252",
    byteOrderMark: 0,
    evidence: `byte ${wrong + 1} (hexadecimal ${byte}) is not UTF-8`,
  };
}

/** Windows-1252 from 0x80 to 0x9F; the rest equals Latin-1. Unassigned bytes stay control characters (WHATWG Encoding). */
const WINDOWS_1252 =
  "\u20ac\u0081\u201a\u0192\u201e\u2026\u2020\u2021\u02c6\u2030\u0160\u2039\u0152\u008d\u017d\u008f" +
  "\u0090\u2018\u2019\u201c\u201d\u2022\u2013\u2014\u02dc\u2122\u0161\u203a\u0153\u009d\u017e\u0178";

/** Arguments that one call of `fromCharCode` takes safely. */
const CODES_AT_ONCE = 8192;

function fromCodes(codes: Uint16Array): string {
  let text = "";
  for (let at = 0; at < codes.length; at += CODES_AT_ONCE)
    text += String.fromCharCode(...codes.subarray(at, at + CODES_AT_ONCE));
  return text;
}

/** Decodes a file piece by piece; a character cut between two pieces is carried over. Drops a byte-order mark. */
export class ByteDecoder {
  readonly #encoding: Encoding;
  readonly #utf8 = new TextDecoder("utf-8", { ignoreBOM: true });
  #odd: number | null = null;
  #begun = false;

  constructor(encoding: Encoding) {
    this.#encoding = encoding;
  }

  /** The characters of `bytes`; `last` also gives what a cut character leaves. What cannot be decoded becomes U+FFFD. */
  decode(bytes: Uint8Array, last: boolean): string {
    const text = this.#decode(bytes, last);
    if (this.#begun || text === "") return text;
    this.#begun = true;
    return text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  }

  #decode(bytes: Uint8Array, last: boolean): string {
    if (this.#encoding === "utf-8") return this.#utf8.decode(bytes, { stream: !last });
    if (this.#encoding === "windows-1252") {
      const codes = Uint16Array.from(bytes, (byte) =>
        byte >= 0x80 && byte < 0xa0 ? WINDOWS_1252.charCodeAt(byte - 0x80) : byte,
      );
      return fromCodes(codes);
    }
    return this.#utf16(bytes, last);
  }

  #utf16(bytes: Uint8Array, last: boolean): string {
    const whole = this.#odd === null ? bytes : Uint8Array.of(this.#odd, ...bytes);
    const count = whole.length >> 1;
    const codes = new Uint16Array(count);
    const low = this.#encoding === "utf-16le" ? 0 : 1;
    for (let at = 0; at < count; at += 1)
      codes[at] = (whole[2 * at + low] ?? 0) | ((whole[2 * at + 1 - low] ?? 0) << 8);
    this.#odd = whole.length % 2 === 1 ? (whole[whole.length - 1] ?? null) : null;
    const text = fromCodes(codes);
    return last && this.#odd !== null ? `${text}\ufffd` : text;
  }
}
