/**
 * A whole book in a link. The part after `#` never leaves the browser, so no server sees the book:
 * `#book.1.` and then, in base64url (RFC 4648, section 5), four bytes of CRC-32 of the text in UTF-8 and the text
 * itself, deflated without a header (RFC 1951).
 */

/** What stands before the book in a fragment; the figure is the version of what follows. */
const TAG = "#book.1.";

/** Any version's tag. */
const ANY_TAG = /^#book\.(\d{1,6})\./;

/** Some mail and chat programs cut or refuse a link that is longer than this, in characters. Common practice, no source. */
export const LONGEST_COMMON_LINK = 2_000;

/** A longer link is neither made nor read, in characters: browsers cut addresses at about two million. */
export const LONGEST_LINK = 1_900_000;

/** A link that unpacks to more than this is refused while it unpacks, in bytes: no brew book that fits a link is as large. */
export const LARGEST_UNPACKED = 16 * 1024 * 1024;

/** Bytes of the check that stand before the packed text. */
const CHECK_BYTES = 4;

/** Bytes turned into characters at a time: a call takes only so many arguments. */
const BATCH = 0x8000;

export type Link =
  /** `warning`: the link may be too long for the way it will be sent; null: it is short. */
  | { readonly is: "link"; readonly url: string; readonly warning: string | null }
  | { readonly is: "failed"; readonly says: string };

export type LinkRead =
  /** The address carries no book. */
  | { readonly is: "none" }
  | { readonly is: "text"; readonly text: string }
  | { readonly is: "broken"; readonly says: string };

/** Raised by a stream that would unpack to more than is allowed. */
class TooLarge extends Error {}

/** A link that opens the book with this text at the page's address. Never throws. */
export async function makeLink(text: string, page: string): Promise<Link> {
  try {
    const bytes = new TextEncoder().encode(text);
    if (bytes.length > LARGEST_UNPACKED) return tooLong();
    const packed = await collect(through(bytes, new CompressionStream("deflate-raw")), LONGEST_LINK);
    const whole = new Uint8Array(CHECK_BYTES + packed.length);
    new DataView(whole.buffer).setUint32(0, crc32(bytes));
    whole.set(packed, CHECK_BYTES);
    const url = page.replace(/#.*$/s, "") + TAG + toBase64Url(whole);
    if (url.length > LONGEST_LINK) return tooLong();
    const warning =
      url.length > LONGEST_COMMON_LINK
        ? `This link has ${url.length.toLocaleString("en")} characters. Some mail and chat programs cut links longer than ${LONGEST_COMMON_LINK.toLocaleString("en")}: send the file instead, or try the link once before you rely on it.`
        : null;
    return { is: "link", url, warning };
  } catch (error) {
    if (error instanceof TooLarge) return tooLong();
    return {
      is: "failed",
      says: "This browser cannot pack a book into a link. Save the book as a file and send that.",
    };
  }
}

const tooLong = (): Link => ({
  is: "failed",
  says: "This book is too long for a link. Save it as a file and send that.",
});

/** The book that an address carries after its `#`. Never throws, and never unpacks more than {@link LARGEST_UNPACKED}. */
export async function readLink(url: string): Promise<LinkRead> {
  const at = url.indexOf("#");
  const fragment = at < 0 ? "" : url.slice(at);
  const version = ANY_TAG.exec(fragment)?.[1];
  if (version === undefined) return { is: "none" };
  if (!fragment.startsWith(TAG))
    return broken("This link was made by a newer Gylebook. Load this page anew to get the newest, then open the link.");
  if (fragment.length > LONGEST_LINK)
    return broken("This link is longer than any that Gylebook makes, so it was not opened.");
  const whole = fromBase64Url(fragment.slice(TAG.length));
  if (whole === null || whole.length <= CHECK_BYTES) return damaged();
  try {
    const unpacked = await collect(
      through(whole.subarray(CHECK_BYTES), new DecompressionStream("deflate-raw")),
      LARGEST_UNPACKED,
    );
    if (crc32(unpacked) !== new DataView(whole.buffer).getUint32(0)) return damaged();
    return { is: "text", text: new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(unpacked) };
  } catch (error) {
    if (error instanceof TooLarge)
      return broken(
        `This link unpacks to more than ${LARGEST_UNPACKED / 1024 / 1024} MB. No brew book in a link is as large, so it was not opened.`,
      );
    return damaged();
  }
}

const broken = (says: string): LinkRead => ({ is: "broken", says });

const damaged = (): LinkRead =>
  broken("This link is damaged: a part is missing or was changed on its way. Ask for it again, or for the file.");

/** Bytes that go into a stream at a time: deflate unpacks a piece whole, about a thousand to one, before it can be stopped. */
const PIECE_BYTES = 2048;

/** What comes out of a packing or unpacking stream when these bytes go in, piece by piece as it is asked for. */
function through(
  bytes: Uint8Array<ArrayBuffer>,
  stream: CompressionStream | DecompressionStream,
): ReadableStream<Uint8Array> {
  let at = 0;
  const source = new ReadableStream<Uint8Array<ArrayBuffer>>(
    {
      pull(controller) {
        if (at >= bytes.length) controller.close();
        else controller.enqueue(bytes.subarray(at, at + PIECE_BYTES));
        at += PIECE_BYTES;
      },
    },
    { highWaterMark: 0 },
  );
  return source.pipeThrough(stream);
}

/** All that a stream yields; stops it and throws {@link TooLarge} as soon as it yields more than `most` bytes. */
async function collect(stream: ReadableStream<Uint8Array>, most: number): Promise<Uint8Array<ArrayBuffer>> {
  const reader = stream.getReader();
  const parts: Uint8Array[] = [];
  let length = 0;
  for (let read = await reader.read(); !read.done; read = await reader.read()) {
    length += read.value.length;
    if (length > most) {
      await reader.cancel();
      throw new TooLarge();
    }
    parts.push(read.value);
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}

function toBase64Url(bytes: Uint8Array): string {
  let characters = "";
  for (let at = 0; at < bytes.length; at += BATCH) characters += String.fromCharCode(...bytes.subarray(at, at + BATCH));
  return btoa(characters).replaceAll("+", "-").replaceAll("/", "_").replace(/=+$/, "");
}

/** The bytes, or null where the text is no base64url. Mail programs may have escaped or wrapped it: both are mended. */
function fromBase64Url(text: string): Uint8Array<ArrayBuffer> | null {
  const clean = text.replace(/%3D|=|%0D|%0A|%20|\s/gi, "");
  if (!/^[\w-]*$/.test(clean)) return null;
  try {
    const characters = atob(clean.replaceAll("-", "+").replaceAll("_", "/"));
    const bytes = new Uint8Array(characters.length);
    for (let at = 0; at < bytes.length; at++) bytes[at] = characters.charCodeAt(at);
    return bytes;
  } catch {
    return null;
  }
}

/** The reversed polynomial of CRC-32 (RFC 1952, section 8). */
const POLYNOMIAL = 0xedb88320;

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit++) rest = (rest & 1) === 1 ? (rest >>> 1) ^ POLYNOMIAL : rest >>> 1;
  return rest;
});

/** CRC-32 of these bytes as gzip has it (RFC 1952), from 0 to 2^32 − 1. */
export function crc32(bytes: Uint8Array): number {
  let rest = 0xffffffff;
  for (const byte of bytes) rest = (CRC_TABLE[(rest ^ byte) & 0xff] ?? 0) ^ (rest >>> 8);
  return (rest ^ 0xffffffff) >>> 0;
}
