import uPlot from "uplot";
import type { PlotData } from "./plot-data.ts";

/** A plot that stands on the page. */
export interface Drawing {
  /** Whether it already shows these figures. */
  shows(data: PlotData): boolean;
  /** Puts the hair line on a point, or takes it away. */
  read(point: number | null): void;
  fit(): void;
  destroy(): void;
}

/** Lines are told apart by stroke as well as colour. */
const DASHES: readonly number[][] = [[], [8, 4], [2, 4], [12, 4, 2, 4]];
const STROKES = ["--gyle-accent", "--gyle-waiting", "--gyle-ink", "--gyle-fault"];

/** Most points that are also drawn as dots. */
const DOTTED = 60;

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
const DAY = 86_400;

/** The brewery's wall clock: seconds are read as they are, in no zone of the device. */
const moment = (seconds: number, previous: number | undefined): string => {
  const at = new Date(seconds * 1000);
  const day = `${at.getUTCDate()} ${MONTHS[at.getUTCMonth()] ?? ""}`;
  const time = `${String(at.getUTCHours()).padStart(2, "0")}:${String(at.getUTCMinutes()).padStart(2, "0")}`;
  if (seconds % DAY === 0) return day;
  return previous !== undefined && Math.floor(previous / DAY) === Math.floor(seconds / DAY) ? time : `${day} ${time}`;
};

const colour = (element: Element, name: string): string => {
  const probe = document.createElement("span");
  probe.style.color = `var(${name})`;
  element.append(probe);
  const found = getComputedStyle(probe).color;
  probe.remove();
  return found;
};

/** Draws into `box`; `onPoint` is told which point the pointer is on. */
export const draw = (box: HTMLElement, data: PlotData, onPoint: (point: number | null) => void): Drawing => {
  const ink = colour(box, "--gyle-ink-soft");
  const rule = colour(box, "--gyle-rule");
  const ground = colour(box, "--gyle-field");
  const font = `13px ${getComputedStyle(box).getPropertyValue("--gyle-text") || "sans-serif"}`;
  const units = [...new Set(data.lines.map(({ unitText }) => unitText))];
  const order = Array.from(data.across.figures.keys())
    .filter((row) => Number.isFinite(data.across.figures[row]))
    .sort((a, b) => (data.across.figures[a] ?? 0) - (data.across.figures[b] ?? 0));
  const column = (figures: Float64Array): (number | null)[] =>
    order.map((row) => {
      const figure = figures[row] ?? Number.NaN;
      return Number.isFinite(figure) ? figure : null;
    });
  const axis = {
    stroke: ink,
    font,
    labelFont: font,
    grid: { stroke: rule, width: 1 },
    ticks: { stroke: rule, width: 1 },
  };
  const size = (): { width: number; height: number } => ({
    width: Math.max(200, box.clientWidth),
    height: box.clientHeight,
  });
  const plot = new uPlot(
    {
      ...size(),
      padding: [12, 12, 0, 0],
      legend: { show: false },
      cursor: { drag: { x: false, y: false }, points: { size: 9 } },
      tzDate: (seconds) => uPlot.tzDate(new Date(seconds * 1000), "UTC"),
      scales: { x: { time: data.across.instants }, ...Object.fromEntries(units.map((unit) => [`y ${unit}`, {}])) },
      axes: [
        {
          ...axis,
          ...(data.across.instants
            ? {
                values: (_: uPlot, splits: number[]) => splits.map((each, at) => moment(each, splits[at - 1])),
                space: 84,
              }
            : {}),
        },
        ...units.map((unit, at) => ({
          ...axis,
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
          const stroke = colour(box, STROKES[at % STROKES.length] ?? "--gyle-ink");
          return {
            label,
            scale: `y ${unitText}`,
            stroke,
            width: 2,
            dash: DASHES[at % DASHES.length] ?? [],
            spanGaps: true,
            points: { show: order.length <= DOTTED, size: 7, fill: ground },
          };
        }),
      ],
      hooks: {
        setCursor: [
          (self) => {
            if (self.cursor.event) onPoint(self.cursor.idx == null ? null : (order[self.cursor.idx] ?? null));
          },
        ],
      },
    },
    [column(data.across.figures), ...data.lines.map(({ figures }) => column(figures))] as uPlot.AlignedData,
    box,
  );
  // Now, not a moment later: the browser may be about to print.
  plot.batch(() => undefined);
  return {
    shows: (other) =>
      other.lines.length === data.lines.length &&
      [other.across, ...other.lines].every(
        (each, at) =>
          each.figures === [data.across, ...data.lines][at]?.figures &&
          each.unitText === [data.across, ...data.lines][at]?.unitText,
      ),
    read: (point) => {
      const index = point === null ? -1 : order.indexOf(point);
      const across = index < 0 ? undefined : data.across.figures[point ?? 0];
      plot.setCursor(
        across === undefined
          ? { left: -10, top: -10 }
          : { left: plot.valToPos(across, "x"), top: plot.over.clientHeight / 2 },
        false,
      );
    },
    fit: () => plot.setSize(size()),
    destroy: () => plot.destroy(),
  };
};
