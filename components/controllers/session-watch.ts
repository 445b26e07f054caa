import type { ReactiveController, ReactiveControllerHost } from "lit";
import type { Session } from "../../engine/index.ts";

/** What a session tells its listeners. */
export type Change = Parameters<Parameters<Session["subscribe"]>[0]>[0];

/**
 * Redraws its host when the session changes what the host shows. Call `watch(session)` from `willUpdate`; it follows a
 * change of session. `concerns` says whether a change matters to the host; left out, every change does.
 */
export class SessionWatch implements ReactiveController {
  #session: Session | null = null;
  #stop: (() => void) | null = null;
  readonly #host: ReactiveControllerHost;
  readonly #concerns: (change: Change) => boolean;

  constructor(host: ReactiveControllerHost, concerns: (change: Change) => boolean = () => true) {
    this.#host = host;
    this.#concerns = concerns;
    host.addController(this);
  }

  watch(session: Session | null): void {
    if (session === this.#session && this.#stop !== null) return;
    this.hostDisconnected();
    this.#session = session;
    this.hostConnected();
  }

  hostConnected(): void {
    if (this.#session === null || this.#stop !== null) return;
    this.#stop = this.#session.subscribe((change) => {
      if (this.#concerns(change)) this.#host.requestUpdate();
    });
  }

  hostDisconnected(): void {
    this.#stop?.();
    this.#stop = null;
  }
}
