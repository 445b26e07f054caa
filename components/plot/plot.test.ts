import { expect, test } from "vitest";
import { createSession, type PlotItem, type Session } from "../../engine/index.ts";
import { barriers, drawn, inside, mount, press, SMALL_BOOK, smallBook, soon } from "../../tests/support/mount.ts";
import { stepped } from "./drawing.ts";
import { type PlotData, plotData } from "./plot-data.ts";
import { inOrder, nearest, pauses, thinned } from "./points.ts";
import "./plot.ts";

const plotOf = (session: Session): PlotItem => {
  const item = session.workbook.sheets
    .at(-1)
    ?.pages.flat()
    .find((each) => each.is === "plot");
  if (item?.is !== "plot") throw new Error("no plot");
  return item;
};
const open = async (session: Session) => mount("gyle-plot", { session, sheet: "cellar", item: plotOf(session) });

test("meets no barrier, its table open", async () => {
  const plot = await open(smallBook());
  inside<HTMLDetailsElement>(plot, "details").open = true;
  await drawn(plot);
  expect(await barriers(plot)).toEqual([]);
});

test("draws the columns in the units that are shown", () => {
  const session = smallBook();
  const { says, across, lines } = plotData(session, "cellar", plotOf(session));
  expect(says).toBeNull();
  expect(across.instants).toBe(true);
  expect(lines.map(({ unitText }) => unitText)).toEqual(["°P", "°C"]);
  expect(lines[0]?.figures[0]).toBeCloseTo(12.1, 9);
  // 64.9 °F is (64.9 − 32) · 5/9 = 18.2777… °C.
  expect(lines[1]?.figures[1]).toBeCloseTo(18.277_777_8, 6);
});

test("follows the reader's lens", () => {
  const session = smallBook();
  session.setLens("US");
  const { lines } = plotData(session, "cellar", plotOf(session));
  expect(lines[1]?.unitText).toBe("°F");
  expect(lines[1]?.figures[1]).toBeCloseTo(64.9, 6);
});

test("the arrows read it point by point, in words", async () => {
  const plot = await open(smallBook());
  press(inside(plot, ".drawing"), "End");
  await drawn(plot);
  expect(inside(plot, ".reading").textContent).toContain("Gravity 7.4 °P");
  press(inside(plot, ".drawing"), "ArrowLeft");
  await drawn(plot);
  expect(inside(plot, ".reading").textContent).toContain("Temp 18.3 °C");
});

test("the same figures stand in a table", async () => {
  const plot = await open(smallBook());
  inside<HTMLDetailsElement>(plot, "details").open = true;
  await drawn(plot);
  expect([...(plot.shadowRoot?.querySelectorAll("tbody tr") ?? [])]).toHaveLength(3);
  expect(inside(plot, "tbody td").textContent).toBe("2026-03-02 08:15");
});

test("says in words why it cannot be drawn", () => {
  const session = createSession(SMALL_BOOK.replace("line readings.temp", "line readings.nothing"));
  expect(plotData(session, "cellar", plotOf(session)).says).toContain("nothing");
});

test("shows a changed figure in the drawing that stands, and leaves it alone while none changed", async () => {
  const session = smallBook();
  const plot = await open(session);
  await import("./drawing.ts");
  await drawn(plot);
  const canvas = inside<HTMLCanvasElement>(plot, "canvas");
  const before = canvas.toDataURL();
  session.dispatch({ edit: "set-formula", cell: "mash.strike_water", formula: "600 L" });
  await drawn(plot);
  expect(canvas.toDataURL()).toBe(before);
  session.dispatch({ edit: "set-entry", table: "cellar.readings", row: 1, column: "gravity", entry: "9" });
  await drawn(plot);
  expect(inside(plot, "canvas")).toBe(canvas);
  expect(canvas.toDataURL()).not.toBe(before);
});

test("an axis never groups digits, in which a point or comma could be read as the decimal one, nor rounds a step away", () => {
  expect(stepped([0, 500, 1000, 1500], 500, "L")).toEqual(["0", "500", "1000", "1500"]);
  expect(stepped([1.045, 1.0475, 1.05], 0.0025, "SG")).toEqual(["1.0450", "1.0475", "1.0500"]);
  expect(stepped([-0.1, 0, 0.1], 0.1, "°C")).toEqual(["−0.1", "0.0", "0.1"]);
  expect(stepped([-10, 0], 10, "°C")).toEqual(["−10", "0"]);
});

test("a specific gravity on an axis has three decimals at the least, and all of an axis as many", () => {
  expect(stepped([1, 1.01, 1.05], 0.01, "SG")).toEqual(["1.000", "1.010", "1.050"]);
  expect(stepped([1, 1.05, 1.1], 0.05, "SG")).toEqual(["1.000", "1.050", "1.100"]);
  expect(stepped([1, 1.005], 0.005, "SG")).toEqual(["1.000", "1.005"]);
});

test("the key names each line beside the stroke and the point it is drawn with, no two alike without colour", async () => {
  const plot = await open(smallBook());
  const items = [...inside(plot, ".key").children];
  expect(items.map(({ textContent }) => textContent?.trim())).toEqual(["Gravity in °P", "Temp in °C"]);
  const strokes = items.map((item) => {
    const mark = item.querySelector("circle")?.getAttribute("class");
    return `${item.querySelector("path")?.getAttribute("stroke-dasharray")} ${mark}`;
  });
  expect(new Set(strokes).size).toBe(2);
  expect(strokes).toEqual(["null ring", "8 4 filled"]);
});

test("every line of the key is drawn in its colour", async () => {
  const plot = await open(smallBook());
  await import("./drawing.ts");
  await drawn(plot);
  const canvas = await soon(() => inside<HTMLCanvasElement>(plot, "canvas"));
  const context = canvas.getContext("2d");
  const colours = [...inside(plot, ".key").querySelectorAll("svg")].map((each) => getComputedStyle(each).color);
  const { data = new Uint8ClampedArray() } = context?.getImageData(0, 0, canvas.width, canvas.height) ?? {};
  const counts = colours.map((colour) => {
    const [red, green, blue] = colour.match(/\d+/g)?.map(Number) ?? [];
    let count = 0;
    for (let at = 0; at < data.length; at += 4)
      if (data[at] === red && data[at + 1] === green && data[at + 2] === blue && data[at + 3] === 255) count += 1;
    return count;
  });
  for (const count of counts) expect(count).toBeGreaterThan(100);
});

/** What is drawn of a row across and a line, with nothing but figures in it. */
const points = (across: readonly number[], line: readonly number[]): PlotData => {
  const column = { label: "", unitText: "", table: "", instants: false, shown: () => "" };
  return {
    says: null,
    across: { ...column, figures: Float64Array.from(across) },
    lines: [{ ...column, figures: Float64Array.from(line) }],
  };
};

test("of very many points those are drawn that reach furthest: no spike and no end is lost", () => {
  const count = 100_000;
  const figures = Array.from({ length: count }, (_, row) => Math.sin(row / 500));
  for (const [row, figure] of [
    [31_415, 9],
    [31_416, -9],
    [50_000, Number.NaN],
    [count - 1, Number.NaN],
  ] as const)
    figures[row] = figure;
  const data = points([...figures.keys()], figures);
  const order = inOrder(data);
  const drawn = thinned(data, order, 800);
  expect(drawn.length).toBeLessThanOrEqual(800 * 4 + 6);
  expect([...drawn]).toEqual([...drawn].sort((a, b) => a - b));
  expect([...drawn]).toEqual(expect.arrayContaining([0, 31_415, 31_416, count - 1]));
  expect([...drawn]).not.toContain(50_000);
  // At each place across, the lowest and the highest are what they are among all points.
  const reach = (rows: Int32Array): Map<number, readonly [number, number]> => {
    const found = new Map<number, readonly [number, number]>();
    for (const row of rows) {
      const figure = figures[row] ?? Number.NaN;
      if (Number.isNaN(figure)) continue;
      const place = Math.floor((row * 800) / (count - 1));
      const [low, high] = found.get(place) ?? [figure, figure];
      found.set(place, [Math.min(low, figure), Math.max(high, figure)]);
    }
    return found;
  };
  expect(reach(drawn)).toEqual(reach(order));
});

test("few points are all drawn, and all where they stand at one place", () => {
  const few = points([1, 2, 3], [1, 2, 3]);
  expect(thinned(few, inOrder(few), 800)).toEqual(Int32Array.of(0, 1, 2));
  const heap = points(Array(5_000).fill(7), [...Array(5_000).keys()]);
  expect(thinned(heap, inOrder(heap), 10)).toHaveLength(5_000);
});

test("a long pause in a log of many readings is a gap; few readings, rows of other things and a reading alone are joined", () => {
  const minutes = (count: number, from: number): number[] => Array.from({ length: count }, (_, at) => from + at * 60);
  const log = (times: readonly number[], instants = true): PlotData => {
    const data = points(times, times);
    return { ...data, across: { ...data.across, instants } };
  };
  const outage = [...minutes(50, 0), ...minutes(50, 20_000)];
  expect(pauses(log(outage), inOrder(log(outage)))).toEqual([[49 * 60, 20_000]]);
  expect(pauses(log(outage, false), inOrder(log(outage, false)))).toEqual([]);
  // Two and a half intervals are a reading or two that did not come.
  const late = [...minutes(50, 0), ...minutes(50, 49 * 60 + 150)];
  expect(pauses(log(late), inOrder(log(late)))).toEqual([]);
  const few = [...minutes(5, 0), ...minutes(5, 20_000)];
  expect(pauses(log(few), inOrder(log(few)))).toEqual([]);
  const alone = [...minutes(50, 0), 10_000, ...minutes(50, 20_000)];
  expect(pauses(log(alone), inOrder(log(alone)))).toEqual([]);
});

test("the pointer reads the row that stands nearest, also where rows are out of order or have no place", () => {
  const data = points([30, 10, Number.NaN, 20], [3, 1, 0, 2]);
  const order = inOrder(data);
  expect([-5, 10, 14, 16, 24.9, 25.1, 99].map((place) => nearest(data, order, place))).toEqual([1, 1, 1, 3, 3, 0, 0]);
  expect(nearest(points([], []), new Int32Array(), 1)).toBeNull();
});

/** A book with a log of these rows, and a plot of it. */
const logOf = (rows: readonly string[]): Session =>
  createSession(`gylebook 1
sheet cellar
table readings
  column taken : instant
  column gravity : °P
  rows
${rows.map((row) => `    ${row}`).join("\n")}
  end
plot "Gravity"
  across readings.taken
  line readings.gravity
`);

/** Red, green and blue of a custom property, 0 to 255. */
const colourOf = (element: Element, name: string): number[] => {
  const probe = document.createElement("span");
  probe.style.color = `var(${name})`;
  element.shadowRoot?.append(probe);
  const context = new OffscreenCanvas(1, 1).getContext("2d");
  if (context === null) throw new Error("no canvas");
  context.fillStyle = getComputedStyle(probe).color;
  probe.remove();
  context.fillRect(0, 0, 1, 1);
  return [...context.getImageData(0, 0, 1, 1).data.slice(0, 3)];
};

test("nothing is drawn through a long pause, and a line goes on past an entry that is missing", async () => {
  const at = (minute: number): string => new Date(Date.UTC(2026, 2, 2, 8, minute)).toISOString().slice(0, 16);
  // Readings each minute for an hour and a half, two hours without any, and as many again; one has no figure.
  const minutes = [...Array(90).keys()].flatMap((minute) => [minute, minute + 210]).sort((a, b) => a - b);
  const plot = await open(logOf(minutes.map((minute) => `${at(minute)}, ${minute === 45 ? "" : 12}`)));
  const canvas = await soon(() => inside<HTMLCanvasElement>(plot, "canvas"));
  const line = colourOf(plot, "--gyle-accent");
  const isDrawn = (share: number): boolean => {
    const { left, width } = inside(plot, ".u-over").getBoundingClientRect();
    const scale = canvas.width / canvas.getBoundingClientRect().width;
    const x = Math.round((left - canvas.getBoundingClientRect().left + width * share) * scale);
    const { data = [] } = canvas.getContext("2d")?.getImageData(x, 0, 1, canvas.height) ?? {};
    return Array.from({ length: data.length / 4 }, (_, each) => [...data.slice(each * 4, each * 4 + 3)]).some((pixel) =>
      pixel.every((part, place) => Math.abs(part - (line[place] ?? 0)) < 8),
    );
  };
  expect([0.1, 45 / 299, 0.5, 0.9].map(isDrawn)).toEqual([true, true, false, true]);
});

test("the last time on the axis is whole where it stands at the right edge", async () => {
  const plot = await open(logOf(["2026-03-02T08:00, 12.1", "2026-03-02T12:00, 12"]));
  const canvas = await soon(() => inside<HTMLCanvasElement>(plot, "canvas"));
  const inked = (x: number): boolean =>
    (canvas.getContext("2d")?.getImageData(x, 0, 1, canvas.height).data ?? []).some((figure) => figure > 0);
  // Half of "12:00" in letters of 13 pixels is wider than 12 pixels: it would run over the edge.
  expect(inked(canvas.width - 1)).toBe(false);
  expect(inked(Math.round(canvas.width / 2))).toBe(true);
});
