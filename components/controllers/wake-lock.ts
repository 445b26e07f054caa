import type { ReactiveController, ReactiveControllerHost } from "lit";

/** Keeps the screen awake while its host is on the page, and takes the lock anew when the page comes back into view. Does nothing where the browser cannot. */
export class WakeLock implements ReactiveController {
  #lock: WakeLockSentinel | null = null;
  #wanted = false;

  constructor(host: ReactiveControllerHost) {
    host.addController(this);
  }

  readonly #take = async (): Promise<void> => {
    if (!this.#wanted || document.visibilityState !== "visible" || !("wakeLock" in navigator)) return;
    // Refused on a low battery or without a gesture: the view works as well without.
    this.#lock = await navigator.wakeLock.request("screen").catch(() => null);
    if (!this.#wanted) await this.#lock?.release();
  };

  hostConnected(): void {
    this.#wanted = true;
    document.addEventListener("visibilitychange", this.#take);
    void this.#take();
  }

  hostDisconnected(): void {
    this.#wanted = false;
    document.removeEventListener("visibilitychange", this.#take);
    void this.#lock?.release();
  }
}
