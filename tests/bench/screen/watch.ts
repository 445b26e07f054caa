/*
 * What is put into the page before its own scripts. It looks only at what a reader would see, and at the browser's own
 * clocks. Times are in milliseconds.
 */

/** What one keystroke or edit cost. */
export interface Response {
  /** From the event, as the browser stamped it, until the next frame was drawn; waiting for the screen is in it. */
  readonly latency: number;
  /** Of that, how long the page's thread was at work: scripts, style, layout and drawing. */
  readonly work: number;
  /** What stood on the screen in that frame; null unless asked for. */
  readonly shown: string | null;
}

/** What is at hand in the page as `screenWatch`. */
export interface ScreenWatch {
  /** From now on every event `last`, begun by an event `first`, gives a response. They may be the same type. */
  follow(first: string, last: string): void;
  /** Whether responses say what was shown. */
  reads: boolean;
  /** The responses since the last call. */
  responses(): readonly Response[];
  /** All words and figures on the screen, without what is told a while later. */
  shown(): string;
  /** When the first worked-out figure had been drawn, counted from the start of the navigation; null: not yet. */
  readonly firstResult: number | null;
  /** What moved since the last call, as the browser scores it for CLS, counted also just after input. */
  shifts(): readonly Shift[];
  /** Lengths of the frames since the last call; the first call begins. */
  frames(): readonly number[];
}

export interface Shift {
  readonly score: number;
  /** What moved, as tag and class. */
  readonly moved: readonly string[];
}

declare global {
  var screenWatch: ScreenWatch;
}

/** Runs in the page by itself: it may use nothing from outside. */
export function watchScreen(): void {
  /** Calls back when the task in hand, or the frame in hand with its layout and drawing, is over. */
  const after = (done: () => void): void => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      done();
    };
    port2.postMessage(null);
  };

  const responses: Response[] = [];
  const spells: [number, number][] = [];
  const work = (): number => {
    let [sum, until] = [0, 0];
    for (const [start, end] of spells.splice(0).sort(([a], [b]) => a - b)) {
      sum += Math.max(0, end - Math.max(start, until));
      until = Math.max(until, end);
    }
    return sum;
  };
  const timed = (done: () => void = () => undefined): void => {
    const start = performance.now();
    after(() => {
      spells.push([start, performance.now()]);
      done();
    });
  };

  /** Told after a pause, or listed when there is time: no part of a result. */
  const LATER = '[role="status"], .cm-tooltip, style';
  const textOf = (node: Node): string => {
    if (node instanceof Text) return node.data.trim();
    if (node instanceof Element && node.matches(LATER)) return "";
    const children = [...node.childNodes, ...(node instanceof Element && node.shadowRoot ? [node.shadowRoot] : [])];
    return children.map(textOf).filter(Boolean).join(" ");
  };
  const shown = (): string => textOf(document.body);

  let begun: number | null = null;
  const drawn = (): void => {
    responses.push({
      latency: performance.now() - (begun ?? 0),
      work: work(),
      shown: screenWatch.reads ? shown() : null,
    });
    begun = null;
  };
  const follow = (first: string, last: string): void => {
    const capture = { capture: true };
    addEventListener(
      first,
      (event) => {
        begun = event.timeStamp;
        spells.length = 0;
        timed();
      },
      capture,
    );
    addEventListener(
      last,
      () => {
        if (begun === null) return;
        timed();
        requestAnimationFrame(() => timed(drawn));
      },
      capture,
    );
  };

  let firstResult: number | null = null;
  const figure = (): Element | null => {
    let root: ParentNode | null | undefined = document;
    for (const tag of ["gyle-workbook", "gyle-sheet", "gyle-result"]) root = root?.querySelector(tag)?.shadowRoot;
    return root?.querySelector("output") ?? null;
  };
  const look = (): void => {
    if (!/\d/.test(figure()?.textContent ?? "")) requestAnimationFrame(look);
    else
      after(() => {
        firstResult = performance.now();
      });
  };
  requestAnimationFrame(look);

  const shifts: Shift[] = [];
  type Entry = PerformanceEntry & {
    value: number;
    sources: readonly { currentRect: DOMRectReadOnly }[];
  };
  /** The browser names no element within a shadow root, so what stands there now is named. */
  const named = ({ x, y, width, height }: DOMRectReadOnly): string => {
    const middle = [x + width / 2, y + height / 2] as const;
    let found = document.elementFromPoint(...middle);
    for (;;) {
      const inner = found?.shadowRoot?.elementFromPoint(...middle) ?? found;
      if (inner === found) return `${found?.localName}.${found?.className}`;
      found = inner;
    }
  };
  const seen = (entries: readonly PerformanceEntry[]): void => {
    for (const { value, sources } of entries as Entry[])
      shifts.push({ score: value, moved: sources.map(({ currentRect }) => named(currentRect)) });
  };
  const observer = new PerformanceObserver((list) => seen(list.getEntries()));
  observer.observe({ type: "layout-shift", buffered: true });

  const lengths: number[] = [];
  let last: number | null = null;
  const frame = (now: number): void => {
    if (last !== null) lengths.push(now - last);
    last = now;
    requestAnimationFrame(frame);
  };

  globalThis.screenWatch = {
    follow,
    reads: true,
    responses: () => responses.splice(0),
    shown,
    get firstResult() {
      return firstResult;
    },
    shifts() {
      seen(observer.takeRecords());
      return shifts.splice(0);
    },
    frames() {
      if (last === null) requestAnimationFrame(frame);
      return lengths.splice(0);
    },
  };
}
