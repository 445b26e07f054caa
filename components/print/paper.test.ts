import { expect, test, vi } from "vitest";
import { createSession } from "../../engine/index.ts";
import { barriers, mount, smallBook } from "../../tests/support/mount.ts";
import { GylePlot } from "../plot/plot.ts";
import "./paper.ts";
import { printFromMenu, printSheets } from "./print.ts";

const textOf = (element: Element): string => (element.textContent ?? "").replace(/\s+/g, " ").trim();

const lineOf = (paper: Element, label: string): Element => {
  const found = [...(paper.shadowRoot?.querySelectorAll(".line") ?? [])].find(
    ({ firstElementChild }) => firstElementChild !== null && textOf(firstElementChild) === label,
  );
  if (found === undefined) throw new Error(`no line is called ${label}`);
  return found;
};

test("a paper has no barriers", async () => {
  expect(await barriers(await mount("gyle-paper", { session: smallBook(), names: ["mash", "cellar"] }))).toEqual([]);
});

test("a reading still to be taken has a ruled blank with its unit and range, a result that waits a dotted one", async () => {
  const paper = await mount("gyle-paper", { session: smallBook(), names: ["mash"] });
  const blank = lineOf(paper, "Rest measured");
  expect(blank.querySelector(".blank")?.getBoundingClientRect().height).toBeGreaterThan(20);
  expect(textOf(blank)).toBe("Rest measured °C within 65 to 68 °C · read after ten minutes");
  const waiting = lineOf(paper, "Warmer");
  expect(waiting.querySelector(".blank.later")).not.toBeNull();
  expect(textOf(waiting)).toBe("Warmer °C");
  // What a whole rule and a dotted one are is said once, where a result waits.
  const legend = "where it is dotted, the book works it out";
  expect(textOf(paper.shadowRoot as unknown as Element)).toContain(legend);
  const cellar = await mount("gyle-paper", { session: smallBook(), names: ["cellar"] });
  expect(textOf(cellar.shadowRoot as unknown as Element)).not.toContain(legend);
});

test("a choice has boxes with the chosen one ticked, a typed reading stands as it was typed", async () => {
  const paper = await mount("gyle-paper", { session: smallBook(), names: ["mash"] });
  const boxes = [...lineOf(paper, "Tun").querySelectorAll(".choices > span")];
  expect(boxes.map((box) => [textOf(box), box.querySelector(".ticked") !== null])).toEqual([
    ["tun one", true],
    ["tun two", false],
  ]);
  expect(textOf(lineOf(paper, "Malt in"))).toBe("Malt in 8.5 sack eight full, one half");
});

test("a fault is told in words, and what hangs on it names it", async () => {
  const paper = await mount("gyle-paper", { session: smallBook(), names: ["mash"] });
  expect(textOf(lineOf(paper, "Total"))).toMatch(/faulty .*volume/);
  expect(textOf(lineOf(paper, "Worse"))).toContain("faulty because of Total");
});

test("a table has its rows as they were written and ruled ones after them, worked columns hatched", async () => {
  const paper = await mount("gyle-paper", { session: smallBook(), names: ["cellar"] });
  const rows = [...(paper.shadowRoot?.querySelectorAll("tbody tr") ?? [])];
  expect([...(rows[1]?.children ?? [])].map(textOf).slice(0, 3)).toEqual(["2026-03-03 08:05", "1.0415 SG", "64.9 °F"]);
  const ruled = rows.filter(({ className }) => className === "ruled");
  expect(ruled).toHaveLength(1);
  expect([...(ruled[0]?.children ?? [])].map(({ className }) => className)).toEqual(["", "", "", "worked"]);
});

test("of a long table the first rows are printed and the rest is counted, a narrow one stands in blocks", async () => {
  const rows = Array.from({ length: 30 }, (_, row) => `    ${row}, ${row * 10}`).join("\n");
  const text = `gylebook 1\nsheet s\ntable stick "Dip stick"\n  column dip : cm\n  column holds : L\n  rows\n${rows}\n  end\n`;
  const paper = await mount("gyle-paper", { session: createSession(text), names: ["s"] });
  const blocks = [...(paper.shadowRoot?.querySelectorAll("table") ?? [])];
  const dips = blocks.map((block) => [...block.querySelectorAll("tbody tr")].map((row) => textOf(row)));
  expect(dips.map((block) => block.length)).toEqual([12, 12]);
  expect([dips[0]?.[0], dips[1]?.[0], dips[1]?.[11]]).toEqual(["00", "12120", "23230"]);
  expect(textOf(paper.shadowRoot as unknown as Element)).toContain(
    "… and 6 more rows; the whole table is in the book.",
  );
});

test("an empty table has ruled rows to begin in", async () => {
  const text = "gylebook 1\nsheet s\ntable stick\n  column a : cm\n  column b : L\n  column c : L\n  rows\n  end\n";
  const paper = await mount("gyle-paper", { session: createSession(text), names: ["s"] });
  expect(paper.shadowRoot?.querySelectorAll(".ruled")).toHaveLength(8);
});

test("what waits for a log without rows, or for more of them, has a dotted rule, with the reason where rows are there", async () => {
  const session = createSession(
    "gylebook 1\nsheet s\nlatest = last(log.b)\ntwice = latest * 2\nheavy = last(log.b where b > 5 kg)\ntable log\n  column a : instant\n  column b : kg\n  rows\n  end\n",
  );
  const lines = async (): Promise<string[]> => {
    const paper = await mount("gyle-paper", { session, names: ["s"] });
    return ["Latest", "Twice", "Heavy"].map((label) => {
      const line = lineOf(paper, label);
      return `${textOf(line)}${line.querySelector(".blank.later") === null ? "" : " (dotted)"}`;
    });
  };
  expect(await lines()).toEqual(["Latest kg (dotted)", "Twice kg (dotted)", "Heavy kg (dotted)"]);
  session.dispatch({ edit: "add-rows", table: "s.log", at: null, rows: [["2026-03-02", "3"]] });
  expect(await lines()).toEqual(["Latest 3 kg", "Twice 6 kg", "Heavy kg There is no entry to take. (dotted)"]);
});

test("a plot of a log that has no row yet is left out", async () => {
  const session = smallBook();
  const plots = async (): Promise<number> =>
    (await mount("gyle-paper", { session, names: ["cellar"] })).shadowRoot?.querySelectorAll("gyle-plot").length ?? -1;
  expect(await plots()).toBe(1);
  session.dispatch({ edit: "empty-blanks" });
  expect(await plots()).toBe(0);
});

test("the browser's own printing gets the same paper, plots drawn at once", async () => {
  const sheets = document.adoptedStyleSheets.length;
  await GylePlot.load();
  printFromMenu(() => ({ session: smallBook(), names: ["cellar"] }));
  dispatchEvent(new Event("beforeprint"));
  // As a browser does it: what waits for no timer, file or frame is done before it prints.
  await Promise.resolve();
  await Promise.resolve();
  const paper = document.querySelector("gyle-paper");
  expect(paper?.shadowRoot?.querySelectorAll("section")).toHaveLength(1);
  expect(paper?.shadowRoot?.querySelector("gyle-plot")?.shadowRoot?.querySelector("canvas")).not.toBeNull();
  dispatchEvent(new Event("afterprint"));
  expect(document.querySelector("gyle-paper")).toBeNull();
  expect(document.adoptedStyleSheets).toHaveLength(sheets);
});

test("markup in a book is printed as text", async () => {
  const text = 'gylebook 1\ntitle "<b>bold</b>"\nsheet s "<img src=x onerror=alert(1)>"\na "<script>1</script>" = 1\n';
  const paper = await mount("gyle-paper", { session: createSession(text), names: ["s"] });
  expect(paper.shadowRoot?.querySelector("img, script, b")).toBeNull();
  expect(textOf(paper.shadowRoot as unknown as Element)).toContain("<script>1</script>");
});

test("printing puts the paper alone on the page, plots drawn, and takes it away afterwards", async () => {
  const sheets = document.adoptedStyleSheets.length;
  const print = vi.spyOn(window, "print").mockImplementation(() => undefined);
  const text = smallBook().text().replace("batch 214", 'batch ""214""; } * { color: red');
  const printed = printSheets(createSession(text), ["mash", "cellar"]);
  await vi.waitFor(() => expect(print).toHaveBeenCalledOnce(), { timeout: 5000 });
  const paper = document.querySelector("gyle-paper");
  expect(paper?.shadowRoot?.querySelectorAll("section")).toHaveLength(2);
  expect(paper?.shadowRoot?.querySelector("gyle-plot")?.shadowRoot?.querySelector("canvas")).not.toBeNull();
  // The title of a book cannot write rules for the page.
  expect(document.adoptedStyleSheets.at(-1)?.cssRules).toHaveLength(3);
  dispatchEvent(new Event("afterprint"));
  await printed;
  expect(document.querySelector("gyle-paper")).toBeNull();
  expect(document.adoptedStyleSheets).toHaveLength(sheets);
  print.mockRestore();
});
