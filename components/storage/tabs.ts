/** What tabs tell one another. */
type Message =
  /** The list of books changed. */
  | { readonly tells: "books" }
  /** Whoever has this book: keep what you have and let it go. */
  | { readonly tells: "give"; readonly id: string }
  /** Does anybody have this book? Asked only where the browser knows no locks. */
  | { readonly tells: "who"; readonly id: string }
  | { readonly tells: "mine"; readonly id: string };

/** How long another tab may take to let a book go before it is taken from it: it may be frozen in the background. In milliseconds. */
const GIVE_MS = 2_000;

/** How long to wait for another tab to say that it has a book, where the browser knows no locks. In milliseconds. */
const ANSWER_MS = 250;

/** What a tab does when others speak to it. */
export interface Listener {
  books(): void;
  /** Another tab wants this book. */
  give(id: string): void;
  /** Does this tab have this book? */
  has(id: string): boolean;
}

/** A book held by this tab: no other tab has it until it is released, or this tab ends. */
export interface Hold {
  release(): void;
}

/** The other tabs of this page. Which tab has which book is the browser's own knowledge (Web Locks), so a tab that crashed holds nothing. */
export class Tabs {
  readonly #name: string;
  readonly #channel: BroadcastChannel | null;
  readonly #locks: LockManager | null;
  readonly #waiting = new Map<string, () => void>();

  constructor(name: string, listener: Listener) {
    this.#name = name;
    // Absent from pages that come over a plain connection.
    this.#locks = (navigator as { locks?: LockManager }).locks ?? null;
    try {
      this.#channel = new BroadcastChannel(name);
      this.#channel.onmessage = ({ data }: MessageEvent<Message>) => this.#hear(data, listener);
    } catch {
      this.#channel = null;
    }
  }

  #hear(message: Message, listener: Listener): void {
    if (message.tells === "books") listener.books();
    else if (message.tells === "give") listener.give(message.id);
    else if (message.tells === "mine") this.#waiting.get(message.id)?.();
    else if (listener.has(message.id)) this.#tell({ tells: "mine", id: message.id });
  }

  #tell(message: Message): void {
    this.#channel?.postMessage(message);
  }

  /** The list of books changed here. */
  tellBooks(): void {
    this.#tell({ tells: "books" });
  }

  /** Takes a book if no other tab has it; null where one has. `lost` is called when another tab takes it by force. */
  async hold(id: string, lost: () => void): Promise<Hold | null> {
    if (this.#locks === null) return (await this.#isTaken(id)) ? null : { release: () => undefined };
    return this.#lock(id, { ifAvailable: true }, lost);
  }

  /** Asks the tab that has the book to let it go, and takes it by force where that tab does not answer. */
  async takeOver(id: string, lost: () => void): Promise<Hold | null> {
    this.#tell({ tells: "give", id });
    if (this.#locks === null) {
      const end = Date.now() + GIVE_MS;
      while (Date.now() < end && (await this.#isTaken(id))) this.#tell({ tells: "give", id });
      return { release: () => undefined };
    }
    const given = await this.#lock(id, { signal: AbortSignal.timeout(GIVE_MS) }, lost);
    return given ?? this.#lock(id, { steal: true }, lost);
  }

  #lock(id: string, options: LockOptions, lost: () => void): Promise<Hold | null> {
    return new Promise((resolve) => {
      let holding = false;
      const held = (lock: Lock | null): Promise<void> | null => {
        if (lock === null) {
          resolve(null);
          return null;
        }
        holding = true;
        return new Promise<void>((release) => {
          resolve({
            release() {
              holding = false;
              release();
            },
          });
        });
      };
      // Rejects when the wait is over, when another tab takes the lock by force, and where locks are refused altogether.
      this.#locks?.request(`${this.#name}/${id}`, options, held).catch((error: unknown) => {
        if (error instanceof DOMException && error.name === "SecurityError") resolve({ release: () => undefined });
        resolve(null);
        if (holding) lost();
      });
    });
  }

  #isTaken(id: string): Promise<boolean> {
    return new Promise((resolve) => {
      const answer = (taken: boolean): void => {
        this.#waiting.delete(id);
        clearTimeout(timer);
        resolve(taken);
      };
      const timer = setTimeout(answer, ANSWER_MS, false);
      this.#waiting.set(id, () => answer(true));
      this.#tell({ tells: "who", id });
    });
  }

  close(): void {
    this.#channel?.close();
  }
}
