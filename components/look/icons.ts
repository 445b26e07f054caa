import { type SVGTemplateResult, svg } from "lit";
import type { State } from "../../engine/index.ts";

const drawn = (content: SVGTemplateResult): SVGTemplateResult =>
  svg`<svg viewBox="0 0 20 20" aria-hidden="true" focusable="false">${content}</svg>`;

/** Signs of the tools; each stands beside a word or an accessible name. */
export const icons = {
  undo: drawn(svg`<path d="M4 8h8a4.5 4.5 0 0 1 0 9H8M4 8l4-4M4 8l4 4"/>`),
  redo: drawn(svg`<path d="M16 8H8a4.5 4.5 0 0 0 0 9h4M16 8l-4-4M16 8l-4 4"/>`),
  path: drawn(
    svg`<path d="M6 3v14"/><circle cx="6" cy="5" r="2"/><circle cx="6" cy="15" r="2"/><path d="M11 5h6M11 10h6M11 15h6"/>`,
  ),
  more: drawn(
    svg`<g fill="currentColor" stroke="none"><circle cx="4.5" cy="10" r="1.5"/><circle cx="10" cy="10" r="1.5"/><circle cx="15.5" cy="10" r="1.5"/></g>`,
  ),
  close: drawn(svg`<path d="M5 5l10 10M15 5L5 15"/>`),
  add: drawn(svg`<path d="M10 4v12M4 10h12"/>`),
  down: drawn(svg`<path d="M5 8l5 5 5-5"/>`),
  next: drawn(svg`<path d="M4 10h12M11 5l5 5-5 5"/>`),
  back: drawn(svg`<path d="M16 10H4M9 5l-5 5 5 5"/>`),
  pencil: drawn(svg`<path d="M4 16l1-4 8-8 3 3-8 8zM11 6l3 3"/>`),
  erase: drawn(svg`<path d="M7 4.5h10.5v11H7L2 10z"/><path d="M9.5 7.500l5 5M14.5 7.500l-5 5"/>`),
  wet: drawn(svg`<path d="M10 2.500c3.2 4 5 6.6 5 9.200a5 5 0 0 1-10 0c0-2.6 1.8-5.2 5-9.200z"/>`),
};

/** A shape for each state, so that colour is never the only sign: ready a filled disc, waiting an open ring with a gap, faulty a crossed diamond. */
export const stateShapes: Record<State, SVGTemplateResult> = {
  ready: drawn(svg`<circle cx="10" cy="10" r="3.25" fill="currentColor" stroke="none"/>`),
  waiting: drawn(svg`<circle cx="10" cy="10" r="5" stroke-dasharray="5.2 2.6"/>`),
  faulty: drawn(svg`<path d="M10 2.500L17.5 10 10 17.5 2.5 10z"/><path d="M7.5 7.500l5 5M12.5 7.500l-5 5"/>`),
};

/** A caution beside a ready value: a triangle with a stroke in it. */
export const cautionShape = drawn(svg`<path d="M10 3.500L17.5 16.500h-15z"/><path d="M10 8.500v3.700M10 14.300v.1"/>`);
