import { ByteDecoder, type Encoding } from "./decode.ts";

/** A piece of a CSV: characters, or bytes still to be decoded. */
export type Chunk = string | Uint8Array;

/** A CSV that can be gone through more than once, from its beginning each time. */
export interface Source {
  chunks(): AsyncIterable<Chunk> | Iterable<Chunk>;
  /** Characters or bytes in all; null when that is not known. */
  readonly length: number | null;
}

/** How far a reading has come. `done` and `of` count characters or bytes, as the source does. */
export interface Progress {
  readonly done: number;
  readonly of: number | null;
  readonly rows: number;
}

/** Raised by whoever wants a reading stopped; looked at between two pieces. */
export interface StopFlag {
  readonly stopped: boolean;
}

/** What a long look through a file takes: ways to show progress, to stop, and to let others run between two pieces. */
export interface Running {
  readonly onProgress?: (progress: Progress) => void;
  readonly stop?: StopFlag;
  /** Awaited between two pieces, so that a message to stop can arrive. */
  readonly pause?: () => Promise<void>;
}

/** Goes through a source as text, without its byte-order mark; ends early, giving false, when it is stopped. */
export async function eachPiece(
  source: Source,
  encoding: Encoding,
  running: Running,
  take: (text: string) => number,
): Promise<boolean> {
  const decoder = new ByteDecoder(encoding);
  let done = 0;
  for await (const chunk of source.chunks()) {
    if (running.stop?.stopped) return false;
    let text = typeof chunk === "string" ? chunk : decoder.decode(chunk, false);
    if (done === 0 && typeof chunk === "string" && text.startsWith("\ufeff")) text = text.slice(1);
    done += chunk.length;
    const rows = take(text);
    running.onProgress?.({ done, of: source.length, rows });
    await running.pause?.();
  }
  take(decoder.decode(new Uint8Array(), true));
  return !running.stop?.stopped;
}

/** Bytes or characters handed out at a time, so that progress shows and a stop is seen soon. */
const CHUNK_LENGTH = 1 << 18;

/** A CSV that is in memory as a whole. */
export const sourceOf = (whole: Chunk): Source => ({
  length: whole.length,
  *chunks() {
    for (let at = 0; at < whole.length; at += CHUNK_LENGTH) yield whole.slice(at, at + CHUNK_LENGTH);
  },
});
