import type { ReactiveController, ReactiveControllerHost } from "lit";

/** Whether a media query holds, kept current: `new Media(this, "(max-width: 60rem)").holds`. */
export class Media implements ReactiveController {
  readonly #host: ReactiveControllerHost;
  readonly #query: MediaQueryList;

  constructor(host: ReactiveControllerHost, query: string) {
    this.#host = host;
    this.#query = matchMedia(query);
    host.addController(this);
  }

  get holds(): boolean {
    return this.#query.matches;
  }

  readonly #changed = (): void => this.#host.requestUpdate();

  hostConnected(): void {
    this.#query.addEventListener("change", this.#changed);
  }

  hostDisconnected(): void {
    this.#query.removeEventListener("change", this.#changed);
  }
}
