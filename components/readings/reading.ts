import type { ChangedRow, Reject } from "../../engine/index.ts";
import type { Came, Report, Request } from "./messages.ts";

/** How far a reading has come. */
export type HowFar = Extract<Report, { is: "progress" }>;

/**
 * Reads CSVs in a worker of its own. A new request ends the one under way; {@link stop} ends it too, and nothing is half
 * done, for the book is changed by nobody but the page.
 */
export class CsvReader {
  #worker: Worker | null = null;
  #busy = false;

  /** What came of a request; null when it was stopped or another one took its place. */
  ask(request: Request, progress: (far: HowFar) => void): Promise<Came | null> {
    if (this.#busy) this.stop();
    this.#worker ??= new Worker(new URL("./reading-worker.ts", import.meta.url), { type: "module" });
    const worker = this.#worker;
    this.#busy = true;
    const changed: ChangedRow[] = [];
    const rejected: Reject[] = [];
    return new Promise((answer) => {
      this.#ended = () => answer(null);
      worker.onmessage = ({ data }: MessageEvent<Report>) => {
        if (data.is === "progress") progress(data);
        else if (data.is === "part") {
          changed.push(...data.changed);
          rejected.push(...data.rejected);
        } else {
          this.#busy = false;
          const { came } = data;
          answer(came.is === "read" ? { ...came, brings: { ...came.brings, changed, rejected } } : came);
        }
      };
      worker.onerror = () => {
        this.stop();
        answer({ is: "refused", says: "The part of Gylebook that reads CSVs did not start. Load the page anew." });
      };
      worker.postMessage(request);
    });
  }

  #ended: () => void = () => {};

  /** Ends what is under way. */
  stop(): void {
    this.#worker?.terminate();
    this.#worker = null;
    this.#busy = false;
    this.#ended();
  }
}
