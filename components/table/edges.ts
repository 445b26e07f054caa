import type { ReactiveController, ReactiveControllerHost } from "lit";
import type { Ref } from "lit/directives/ref.js";

/** What stays in view on either side of an entry: the row's number, or part of the column beside it. */
const BESIDE = 44;

/** Scrolls a box sideways as far as an entry of it needs, and no further. */
export const bringIntoView = (box: HTMLElement, entry: HTMLElement): void => {
  const [room, place] = [box.getBoundingClientRect(), entry.getBoundingClientRect()];
  const before = place.left - BESIDE - room.left;
  const after = place.right + BESIDE - room.right;
  if (before < 0) box.scrollLeft += before;
  else if (after > 0) box.scrollLeft += Math.min(after, before);
};

/** Sets `data-more` of the element around a box that scrolls sideways: "", "before", "after" or "before after". */
class Edges implements ReactiveController {
  readonly #box: Ref<HTMLElement>;
  #watched: HTMLElement | undefined;
  readonly #sized = new ResizeObserver(() => this.#look());

  constructor(box: Ref<HTMLElement>) {
    this.#box = box;
  }

  hostUpdated(): void {
    const { value } = this.#box;
    if (value === this.#watched) return;
    this.hostDisconnected();
    this.#watched = value;
    if (value === undefined) return;
    value.addEventListener("scroll", this.#look, { passive: true });
    this.#sized.observe(value);
    for (const part of value.children) this.#sized.observe(part);
  }

  hostDisconnected(): void {
    this.#watched?.removeEventListener("scroll", this.#look);
    this.#sized.disconnect();
    this.#watched = undefined;
  }

  readonly #look = (): void => {
    const box = this.#watched;
    const around = box?.parentElement;
    if (box === undefined || !around) return;
    const rest = box.scrollWidth - box.clientWidth - Math.abs(box.scrollLeft);
    const more = [...(Math.abs(box.scrollLeft) > 1 ? ["before"] : []), ...(rest > 1 ? ["after"] : [])].join(" ");
    if (around.dataset.more !== more) around.dataset.more = more;
  };
}

/** From now on the element around `box` tells its styles on which sides more of the box lies than is seen. */
export const showEdges = (host: ReactiveControllerHost, box: Ref<HTMLElement>): void => {
  host.addController(new Edges(box));
};
