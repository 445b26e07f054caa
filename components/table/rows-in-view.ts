import { defaultRangeExtractor, VirtualizerController } from "@tanstack/lit-virtual";
import type { ReactiveControllerHost } from "lit";
import type { Ref } from "lit/directives/ref.js";
import { ROW_HEIGHT } from "./table-styles.ts";

/** Rows drawn beyond the window on either side, so that a quick scroll shows no gap. */
const OVERSCAN = 5;

/** Which rows of a scrolling box are to be drawn: those in view, and the one in hand, so that it keeps the focus. */
export const rowsInView = (
  host: ReactiveControllerHost,
  box: Ref<HTMLElement>,
  inHand: () => number,
): VirtualizerController<HTMLElement, HTMLElement> =>
  new VirtualizerController<HTMLElement, HTMLElement>(host, {
    getScrollElement: () => box.value ?? null,
    count: 0,
    estimateSize: () => ROW_HEIGHT,
    overscan: OVERSCAN,
    rangeExtractor: (range) =>
      [...new Set([...defaultRangeExtractor(range), ...(inHand() < range.count ? [inHand()] : [])])].sort(
        (a, b) => a - b,
      ),
  });
