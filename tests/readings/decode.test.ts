import { describe, expect, test } from "vitest";
import { ByteDecoder, type Encoding, firstNotUtf8, proposeEncoding } from "../../engine/readings/decode.ts";

const TEXT = "Zeit;Temp (°C);Extrakt\r\n08:15;17,8;“12,1” – naïve Kühlung €\r\n";

function encode(text: string, encoding: Encoding, mark: boolean): Uint8Array {
  const marked = mark ? `\ufeff${text}` : text;
  if (encoding === "utf-8") return new Uint8Array(Buffer.from(marked, "utf8"));
  if (encoding === "windows-1252") {
    const high: Record<string, number> = { "“": 0x93, "”": 0x94, "–": 0x96, "€": 0x80 };
    return Uint8Array.from(text, (character) => high[character] ?? character.charCodeAt(0));
  }
  const bytes = Buffer.from(marked, "utf16le");
  return new Uint8Array(encoding === "utf-16be" ? bytes.swap16() : bytes);
}

function decode(bytes: Uint8Array, encoding: Encoding, piece: number): string {
  const decoder = new ByteDecoder(encoding);
  let text = "";
  for (let at = 0; at < bytes.length; at += piece) text += decoder.decode(bytes.subarray(at, at + piece), false);
  return text + decoder.decode(new Uint8Array(), true);
}

const FORMS: [Encoding, boolean][] = [
  ["utf-8", false],
  ["utf-8", true],
  ["utf-16le", true],
  ["utf-16be", true],
  ["utf-16le", false],
  ["utf-16be", false],
  ["windows-1252", false],
];

describe("an encoding", () => {
  test.each(FORMS)("of %s (byte-order mark: %s) is found, and decoded however the bytes are cut", (encoding, mark) => {
    const bytes = encode(TEXT, encoding, mark);
    expect(proposeEncoding(bytes).encoding).toBe(encoding);
    for (const piece of [1, 2, 3, 7, 1000]) expect(decode(bytes, encoding, piece)).toBe(TEXT);
  });

  test("Windows-1252 is Latin-1 but for 0x80 to 0x9F (Unicode Consortium, CP1252.TXT; from memory)", () => {
    const assigned = new Map([
      ...[0x80, 0x82, 0x83, 0x84, 0x85, 0x86, 0x87, 0x88, 0x89, 0x8a, 0x8b, 0x8c, 0x8e].entries(),
      ...[0x91, 0x92, 0x93, 0x94, 0x95, 0x96, 0x97, 0x98, 0x99, 0x9a, 0x9b, 0x9c, 0x9e, 0x9f].map(
        (byte, at): [number, number] => [at + 13, byte],
      ),
    ]);
    const characters = "€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ";
    expect(decode(Uint8Array.from(assigned.values()), "windows-1252", 5)).toBe(characters);
    const rest = Uint8Array.from({ length: 256 }, (_, byte) => byte).filter((byte) => byte < 0x80 || byte >= 0xa0);
    expect(decode(rest, "windows-1252", 300)).toBe(Buffer.from(rest).toString("latin1"));
  });

  test("of plain ASCII is UTF-8, and a character cut at the end of the sample is no fault", () => {
    expect(proposeEncoding(Buffer.from("a,b\n1,2")).encoding).toBe("utf-8");
    expect(firstNotUtf8(Buffer.from("5 °C").subarray(0, 3))).toBe(-1);
    expect(firstNotUtf8(Uint8Array.of(0x31, 0xc3, 0x28))).toBe(1);
  });

  test("that was wrong leaves a mark where bytes could not be decoded", () => {
    expect(decode(Uint8Array.of(0x31, 0xff, 0x32), "utf-8", 10)).toBe("1\ufffd2");
    expect(decode(Uint8Array.of(0x31, 0x00, 0x32), "utf-16le", 10)).toBe("1\ufffd");
  });
});
