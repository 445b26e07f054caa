/** Why a book cannot be kept on this device, and the sentence that tells it. */
export interface Trouble {
  /**
   * `refused`: the browser lets nothing be stored here (a private window, storage switched off);
   * `full`: there is no room left; `newer`: a newer program has kept its books here in a form that this one cannot read;
   * `failed`: anything else.
   */
  readonly why: "refused" | "full" | "newer" | "failed";
  /** What is so, and what to do about it. */
  readonly says: string;
}

const SAYS: Record<Trouble["why"], string> = {
  refused:
    "This browser refuses to store anything for this page, as a private window may. Your work is only in this tab: save it as a file before you close it.",
  full: "There is no room left on this device for this book. What you typed last is only in this tab: save it as a file, then make room.",
  newer:
    "A newer Gylebook has kept the books of this browser, and this one cannot read them. Close every Gylebook tab and open it again; until then your work is only in this tab.",
  failed:
    "The device's storage does not answer as it should. Your work is only in this tab: save it as a file before you close it.",
};

const BY_NAME: Record<string, Trouble["why"]> = {
  SecurityError: "refused",
  InvalidStateError: "refused",
  NotAllowedError: "refused",
  QuotaExceededError: "full",
  VersionError: "newer",
};

/** The trouble of this kind, in words. */
export const trouble = (why: Trouble["why"]): Trouble => ({ why, says: SAYS[why] });

/** What an error thrown by the browser's storage means for the person at the screen. */
export function troubleOf(error: unknown): Trouble {
  const name = typeof error === "object" && error !== null && "name" in error ? String(error.name) : "";
  return trouble(BY_NAME[name] ?? (globalThis.indexedDB === undefined ? "refused" : "failed"));
}

/** Did the person at the screen turn away from a picker or a question? */
export const wasCancelled = (error: unknown): boolean => error instanceof DOMException && error.name === "AbortError";
