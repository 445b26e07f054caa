import "./known-language.ts";
import uPlot from "uplot";
import type { PlotData } from "./plot-data.ts";
import { aligned, inOrder, nearest, pauses, thinned } from "./points.ts";
import { DOTTED, strokeOf } from "./strokes.ts";

/** A plot that stands on the page. */
export interface Drawing {
  /** Shows these figures where it stands; false when the plot is another one and must be drawn anew. */
  takes(data: PlotData): boolean;
  /** Puts the hair line on a point, or takes it away. */
  read(point: number | null): void;
  fit(): void;
  destroy(): void;
}

/** Half of "31 Dec 15:10", which may stand at the right end of the axis, in pixels; an axis on the right has more room. */
const LAST_LABEL = 40;

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const DAY = 86_400;

/** No axis of brewing figures steps more finely; the dust of binary fractions lies beyond. */
const FINEST_DECIMAL = 9;

/** The brewery's wall clock: seconds are read as they are, in no zone of the device. */
const moment = (seconds: number, previous: number | undefined): string => {
  const at = new Date(seconds * 1000);
  const day = `${at.getUTCDate()} ${MONTHS[at.getUTCMonth()] ?? ""}`;
  const time = `${String(at.getUTCHours()).padStart(2, "0")}:${String(at.getUTCMinutes()).padStart(2, "0")}`;
  if (seconds % DAY === 0) return day;
  return previous !== undefined && Math.floor(previous / DAY) === Math.floor(seconds / DAY) ? time : `${day} ${time}`;
};

/** Units whose figures are never written with fewer decimals: a specific gravity is 1.050. */
const LEAST_DECIMALS: Readonly<Record<string, number>> = { SG: 3 };

/** Figures of an axis as a book writes figures: digits never grouped, and all with as many decimals as the steps between them and their unit have. */
export const stepped = (splits: readonly number[], step: number, unit: string): string[] => {
  const ofStep = step
    .toFixed(FINEST_DECIMAL)
    .replace(/\.?0+$/, "")
    .split(".")[1];
  const decimals = Math.max(ofStep?.length ?? 0, LEAST_DECIMALS[unit] ?? 0);
  return splits.map((each) => each.toFixed(decimals).replace("-", "−"));
};

const colour = (element: Element, name: string): string => {
  const probe = document.createElement("span");
  probe.style.color = `var(${name})`;
  element.append(probe);
  const found = getComputedStyle(probe).color;
  probe.remove();
  return found;
};

const same = (a: Float64Array, b: Float64Array): boolean =>
  a === b || (a.length === b.length && a.every((figure, row) => Object.is(figure, b[row])));

/** Whether two plots differ in their figures at most. */
const alike = (a: PlotData, b: PlotData): boolean =>
  a.across.figures.length === b.across.figures.length &&
  a.across.instants === b.across.instants &&
  a.lines.length === b.lines.length &&
  a.lines.every(({ label, unitText }, at) => label === b.lines[at]?.label && unitText === b.lines[at]?.unitText);

/** Draws into `box`; `onPoint` is told which point the pointer is on. */
export const draw = (box: HTMLElement, data: PlotData, onPoint: (point: number | null) => void): Drawing => {
  const ink = colour(box, "--gyle-ink-soft");
  const rule = colour(box, "--gyle-rule");
  const ground = colour(box, "--gyle-field");
  const font = `13px ${getComputedStyle(box).getPropertyValue("--gyle-text") || "sans-serif"}`;
  const units = [...new Set(data.lines.map(({ unitText }) => unitText))];
  const size = (): { width: number; height: number } => ({
    width: Math.max(200, box.clientWidth),
    height: box.clientHeight,
  });
  let drawn = data;
  let order = inOrder(data);
  let paused = pauses(data, order);
  /** The figures to draw: no more than the drawing has places for. */
  const points = (): uPlot.AlignedData => aligned(drawn, thinned(drawn, order, size().width * devicePixelRatio));
  const axisIn = (unit: string) => ({
    stroke: ink,
    font,
    labelFont: font,
    grid: { stroke: rule, width: 1 },
    ticks: { stroke: rule, width: 1 },
    values: (_: uPlot, splits: number[], __: number, ___: number, step: number) => stepped(splits, step, unit),
  });
  const plot = new uPlot(
    {
      ...size(),
      padding: [12, units.length > 1 ? 12 : LAST_LABEL, 0, 0],
      legend: { show: false },
      cursor: { drag: { x: false, y: false }, points: { size: 9 } },
      tzDate: (seconds) => uPlot.tzDate(new Date(seconds * 1000), "UTC"),
      scales: { x: { time: data.across.instants }, ...Object.fromEntries(units.map((unit) => [`y ${unit}`, {}])) },
      axes: [
        {
          ...axisIn(data.across.unitText),
          ...(data.across.instants
            ? {
                values: (_: uPlot, splits: number[]) => splits.map((each, at) => moment(each, splits[at - 1])),
                space: 84,
              }
            : {}),
        },
        ...units.map((unit, at) => ({
          ...axisIn(unit),
          scale: `y ${unit}`,
          side: at % 2 === 0 ? 3 : 1,
          size: 58,
          labelSize: 22,
          label:
            data.lines
              .filter((each) => each.unitText === unit)
              .map(({ label }) => label)
              .join(", ") + (unit === "" ? "" : ` (${unit})`),
          grid: { show: at === 0, stroke: rule, width: 1 },
        })),
      ],
      series: [
        {},
        ...data.lines.map(({ label, unitText }, at) => {
          const { colour: name, dash, filled } = strokeOf(at);
          const stroke = colour(box, name);
          return {
            label,
            scale: `y ${unitText}`,
            stroke,
            width: 2,
            dash: [...dash],
            spanGaps: false,
            // A reading that is missing is passed over; where nothing was read for long, no line is drawn.
            gaps: (self: uPlot): [number, number][] =>
              paused.map(([from, to]) => [self.valToPos(from, "x", true), self.valToPos(to, "x", true)]),
            points: { show: order.length <= DOTTED, size: 7, fill: filled ? stroke : ground },
          };
        }),
      ],
      hooks: {
        setCursor: [
          (self) => {
            const { event, idx, left = -1 } = self.cursor;
            if (event) onPoint(idx == null ? null : nearest(drawn, order, self.posToVal(left, "x")));
          },
        ],
      },
    },
    points(),
    box,
  );
  // Now, not a moment later: the browser may be about to print.
  plot.batch(() => undefined);
  return {
    takes: (next) => {
      if (!alike(drawn, next)) return false;
      const before = drawn;
      drawn = next;
      const moved = !same(before.across.figures, next.across.figures);
      if (!moved && next.lines.every(({ figures }, at) => same(figures, before.lines[at]?.figures ?? figures)))
        return true;
      order = inOrder(next);
      paused = pauses(next, order);
      plot.batch(() => plot.setData(points()));
      return true;
    },
    read: (point) => {
      const across = point === null ? Number.NaN : (drawn.across.figures[point] ?? Number.NaN);
      plot.setCursor(
        Number.isFinite(across)
          ? { left: plot.valToPos(across, "x"), top: plot.over.clientHeight / 2 }
          : { left: -10, top: -10 },
        false,
      );
    },
    fit: () => {
      const next = size();
      if (next.width === plot.width && next.height === plot.height) return;
      plot.batch(() => {
        plot.setSize(next);
        plot.setData(points());
      });
    },
    destroy: () => plot.destroy(),
  };
};
