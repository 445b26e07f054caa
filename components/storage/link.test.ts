import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { crc32, LARGEST_UNPACKED, LONGEST_COMMON_LINK, LONGEST_LINK, makeLink, readLink } from "./link.ts";

const PAGE = "https://brewery.example/gylebook/#mash";

const BOOK = 'gylebook 1\r\ntitle "Märzen 麦酒 🍺"\r\nsheet mash\r\ngrain = 8.5 sack # ½ full, "eight"\r\n';

const urlOf = async (text: string): Promise<string> => {
  const link = await makeLink(text, PAGE);
  if (link.is !== "link") throw new Error(link.says);
  return link.url;
};

const packed = async (bytes: Uint8Array<ArrayBuffer>): Promise<Uint8Array> =>
  new Uint8Array(
    await new Response(new Blob([bytes]).stream().pipeThrough(new CompressionStream("deflate-raw"))).arrayBuffer(),
  );

const fragmentOf = (check: number, body: Uint8Array): string => {
  const whole = new Uint8Array(4 + body.length);
  new DataView(whole.buffer).setUint32(0, check);
  whole.set(body, 4);
  let characters = "";
  for (const byte of whole) characters += String.fromCharCode(byte);
  return `#book.1.${btoa(characters).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "")}`;
};

describe("the check in a link", () => {
  test("is CRC-32 as published", () => {
    // The check value of CRC-32 in catalogues of such checks, for the nine ASCII digits (polynomial: RFC 1952, section 8).
    expect(crc32(new TextEncoder().encode("123456789"))).toBe(0xcbf43926);
  });
});

describe("a link", () => {
  test("carries a book in any script, line ends and all, and only after the #", async () => {
    const url = await urlOf(BOOK);
    expect(url.split("#")[0]).toBe("https://brewery.example/gylebook/");
    expect(url.split("#")[1]).toMatch(/^book\.1\.[\w-]+$/);
    expect(await readLink(url)).toEqual({ is: "text", text: BOOK });
  });

  test("carries any text there and back", async () => {
    await fc.assert(
      fc.asyncProperty(fc.string({ unit: "binary", maxLength: 2000 }), async (text) => {
        expect(await readLink(await urlOf(`\uFEFF${text}`))).toEqual({ is: "text", text: `\uFEFF${text}` });
      }),
      { numRuns: 100 },
    );
  });

  test("is read though a mail program escaped or wrapped it", async () => {
    const url = await urlOf(BOOK);
    expect(await readLink(`${url.slice(0, 80)}\r\n ${url.slice(80)}%3D%3D`)).toEqual({ is: "text", text: BOOK });
  });

  test("is not seen where there is none", async () => {
    for (const url of [PAGE, "https://brewery.example/", "", "#", "#book", "#bookmark.1.x"])
      expect(await readLink(url)).toEqual({ is: "none" });
  });

  test("that is short has no warning, a long one has, one too long is not made", async () => {
    const noise = (length: number): string => {
      let state = 1;
      let text = "";
      while (text.length < length) {
        state = (Math.imul(state, 48271) >>> 0) % 2147483647;
        text += String.fromCharCode(0x4e00 + (state % 20000));
      }
      return text;
    };
    expect(await makeLink(BOOK, PAGE)).toMatchObject({ is: "link", warning: null });
    const long = await makeLink(noise(3000), PAGE);
    expect(long).toMatchObject({ is: "link", warning: expect.stringContaining("characters") });
    expect(long.is === "link" && long.url.length).toBeGreaterThan(LONGEST_COMMON_LINK);
    expect(await makeLink(noise(700_000), PAGE)).toMatchObject({
      is: "failed",
      says: expect.stringContaining("too long"),
    });
  });
});

describe("a damaged link", () => {
  test("is told at whatever place it was cut or changed", async () => {
    const url = await urlOf(BOOK);
    const start = url.indexOf("#book.1.") + "#book.1.".length;
    for (let at = start; at < url.length; at++) {
      const cut = await readLink(url.slice(0, at));
      expect(cut, `cut at ${at}`).toMatchObject({ is: "broken" });
      const other = url[at] === "A" ? "B" : "A";
      const changed = await readLink(url.slice(0, at) + other + url.slice(at + 1));
      // The last character may carry bits that no byte has: the book is then whole.
      if (changed.is === "text") expect(changed.text).toBe(BOOK);
      else expect(changed, `changed at ${at}`).toMatchObject({ is: "broken" });
    }
    expect(await readLink(url.toLowerCase())).toMatchObject({ is: "broken" });
  });

  test("never throws, whatever stands in it", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.string({ unit: "binary", maxLength: 300 }),
        fc.uint8Array({ maxLength: 300 }),
        async (text, bytes) => {
          expect((await readLink(`#book.1.${text}`)).is).toBe("broken");
          expect((await readLink(fragmentOf(1, bytes))).is).toBe("broken");
        },
      ),
      { numRuns: 200 },
    );
  });

  test("of text that is not UTF-8 is told", async () => {
    const bytes = new Uint8Array([0xff, 0xfe, 0x41]);
    expect(await readLink(fragmentOf(crc32(bytes), await packed(bytes)))).toMatchObject({ is: "broken" });
  });

  test("from a newer program is told kindly", async () => {
    expect(await readLink("#book.2.AAAA")).toMatchObject({ is: "broken", says: expect.stringContaining("newer") });
  });

  test("longer than any is not even unpacked", async () => {
    expect(await readLink(`#book.1.${"A".repeat(LONGEST_LINK)}`)).toMatchObject({
      is: "broken",
      says: expect.stringContaining("longer"),
    });
  });
});

describe("a link that unpacks to more than any book", () => {
  test("is given up while it unpacks, and neither memory nor time runs away", async () => {
    // Zeros deflate about 1000 to 1: 512 MB of them stand in a link of half a megabyte.
    const zeros = new Uint8Array(1024 * 1024);
    let left = 512;
    const source = new ReadableStream<Uint8Array<ArrayBuffer>>({
      pull(controller) {
        controller.enqueue(zeros);
        left -= 1;
        if (left === 0) controller.close();
      },
    });
    const bomb = new Uint8Array(
      await new Response(source.pipeThrough(new CompressionStream("deflate-raw"))).arrayBuffer(),
    );
    const fragment = fragmentOf(0, bomb);
    expect(fragment.length).toBeLessThan(LONGEST_LINK);
    const timed = async (work: () => Promise<unknown>): Promise<number> => {
      const started = performance.now();
      await work();
      return performance.now() - started;
    };
    const whole = await timed(() =>
      new Blob([bomb]).stream().pipeThrough(new DecompressionStream("deflate-raw")).pipeTo(new WritableStream()),
    );
    let read: unknown;
    const given = await timed(async () => {
      read = await readLink(fragment);
    });
    expect(read).toMatchObject({ is: "broken", says: expect.stringContaining(`${LARGEST_UNPACKED / 1024 / 1024} MB`) });
    // It is given up after 16 of the 512 MB.
    expect(given).toBeLessThan(whole);
  });
});
