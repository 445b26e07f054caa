import { expect, test, vi } from "vitest";
import { userEvent } from "vitest/browser";
import { createSession } from "../../engine/index.ts";
import { barriers, drawn, inside, mount, smallBook, soon } from "../../tests/support/mount.ts";
import "./formula-editor.ts";

/** One frame of a screen that is drawn sixty times a second, in milliseconds. */
const FRAME = 16;

const CONTEXT = { sheet: "mash", cell: "mash.mash_ratio" };

/** An editor on a formula, with what it fires. */
const editorOn = async (formula: string, context = CONTEXT) => {
  const session = smallBook();
  const editor = await mount("gyle-formula-editor", { session, context, formula, label: "Formula of Mash ratio" });
  const kept = vi.fn<(formula: string) => void>();
  const left = vi.fn();
  editor.addEventListener("gyle-keep", (event) => kept(event.detail.formula));
  editor.addEventListener("gyle-leave", left);
  return { session, editor, kept, left };
};

const below = (editor: Element): string => (inside(editor, ".below").textContent ?? "").replace(/\s+/g, " ").trim();
/** The list as keys find it: while it is asked for anew it takes none. */
const listed = (editor: Element): string[] =>
  [
    ...(editor.shadowRoot?.querySelectorAll(
      ".cm-tooltip-autocomplete:not(.cm-tooltip-autocomplete-disabled) .cm-completionLabel",
    ) ?? []),
  ].map((each) => each.textContent ?? "");
const marked = (editor: Element, kind: string): string[] =>
  [...(editor.shadowRoot?.querySelectorAll(`.is-${kind}`) ?? [])].map((each) => each.textContent ?? "");

test("meets no barrier, sound or faulty, with its list open", async () => {
  for (const formula of [
    "strike_water / grain as L/kg",
    "strike_water + grain",
    "6 gal",
    "strike_temperature(rest: 66 °C, ",
  ]) {
    const { editor } = await editorOn(formula);
    expect(await barriers(editor), formula).toEqual([]);
  }
  const { editor } = await editorOn("");
  await userEvent.keyboard("gra");
  await soon(() => expect(listed(editor)).toContain("grain"));
  expect(await barriers(editor)).toEqual([]);
});

test("puts its list into the order of focus as soon as it is drawn", async () => {
  const { editor } = await editorOn("");
  const drawnAs: (string | null)[] = [];
  const eye = new MutationObserver((changes) => {
    for (const { addedNodes } of changes)
      for (const node of addedNodes)
        for (const list of node instanceof Element ? [node, ...node.querySelectorAll("ul")] : [])
          if (list.matches("ul[role=listbox]")) drawnAs.push(list.getAttribute("tabindex"));
  });
  eye.observe(inside(editor, ".field"), { childList: true, subtree: true });
  await userEvent.keyboard("gra");
  await soon(() => expect(listed(editor)).toContain("grain"));
  eye.disconnect();
  expect(drawnAs.length).toBeGreaterThan(0);
  expect(new Set(drawnAs)).toEqual(new Set(["0"]));
});

test("takes the focus, has a name, and tells what the formula gives", async () => {
  const { editor } = await editorOn("strike_water / grain as L/kg");
  const field = inside(editor, ".cm-content");
  expect(editor.shadowRoot?.activeElement).toBe(field);
  expect(field.getAttribute("aria-label")).toBe("Formula of Mash ratio");
  // 640 L over 8.5 sacks of 25 kg.
  expect(below(editor)).toBe("gives 3.01 L/kg volume per mass");
});

test("colours what the engine's own reader finds", async () => {
  const { editor } = await editorOn("round_up(mash.grain, 25 kg) # whole sacks");
  expect(marked(editor, "function")).toEqual(["round_up"]);
  expect(marked(editor, "name")).toEqual(["mash.grain"]);
  expect(marked(editor, "number")).toEqual(["25"]);
  expect(marked(editor, "unit")).toEqual(["kg"]);
  expect(marked(editor, "note")).toEqual(["# whole sacks"]);
});

test("tells the result while typing, and Enter keeps", async () => {
  const { editor, kept, session } = await editorOn("strike_water");
  await userEvent.keyboard(" / 2");
  await drawn(editor);
  expect(below(editor)).toBe("gives 320 L volume");
  await userEvent.keyboard("{Enter}");
  expect(kept).toHaveBeenCalledExactlyOnceWith("strike_water / 2");
  expect(session.canUndo).toBe(false);
});

test("underlines the very characters of a fault, and F2 makes the mend", async () => {
  const { editor, kept } = await editorOn("grian * 2");
  expect(marked(editor, "fault")).toEqual(["grian"]);
  expect(below(editor)).toContain('There is no "grian" here. Did you mean grain?');
  expect(inside(editor, ".faulty button").textContent).toBe("Write grainF2");
  await userEvent.keyboard("{F2}");
  await drawn(editor);
  expect(below(editor)).toBe("gives 17 sack mass");
  await userEvent.keyboard("{Enter}");
  expect(kept).toHaveBeenCalledExactlyOnceWith("grain * 2");
});

test("each mend of a fault has its button, and undo takes a mend back", async () => {
  const { editor } = await editorOn("6 gal");
  const mends = [...(editor.shadowRoot?.querySelectorAll<HTMLButtonElement>(".faulty button") ?? [])];
  expect(mends.map((each) => each.textContent)).toEqual(["Write US galF2", "Write imp gal"]);
  await userEvent.click(mends[1] as HTMLButtonElement);
  await drawn(editor);
  expect(editor.text).toBe("6 imp gal");
  await userEvent.keyboard("{Control>}z{/Control}");
  expect(editor.text).toBe("6 gal");
});

test("a faulty formula can be kept", async () => {
  const { kept } = await editorOn("strike_water + grain");
  await userEvent.keyboard("{Enter}");
  expect(kept).toHaveBeenCalledExactlyOnceWith("strike_water + grain");
});

test("Escape leaves, and nothing is kept", async () => {
  const { kept, left, session } = await editorOn("strike_water");
  await userEvent.keyboard(" / 0 {Escape}");
  expect(left).toHaveBeenCalledOnce();
  expect(kept).not.toHaveBeenCalled();
  expect(session.cell("mash.mash_ratio")?.formula).toBe("strike_water / grain as L/kg");
});

test("offers lines with label and kind; Tab takes the first, Enter keeps what is typed", async () => {
  const { editor, kept } = await editorOn("");
  await userEvent.keyboard("gra");
  await soon(() => expect(listed(editor)[0]).toBe("grain"));
  expect(inside(editor, ".cm-completionDetail").textContent).toBe("Malt in, mass");
  await userEvent.keyboard("{Tab}");
  expect(editor.text).toBe("grain");
  await userEvent.keyboard(" * gra");
  await soon(() => expect(listed(editor)[0]).toBe("grain"));
  await userEvent.keyboard("{Enter}");
  expect(kept).toHaveBeenCalledExactlyOnceWith("grain * gra");
});

test("a function is put in with its parentheses, and its arguments are listed", async () => {
  const { editor } = await editorOn("");
  await userEvent.keyboard("strike_te");
  await soon(() => expect(listed(editor)[0]).toBe("strike_temperature"));
  await userEvent.keyboard("{Tab}");
  await soon(() => expect(listed(editor)[0]).toBe("rest:"));
  expect(editor.text).toBe("strike_temperature()");
  await userEvent.keyboard("{Tab}66 °C)");
  expect(editor.text).toBe("strike_temperature(rest: 66 °C)");
});

test("the list does not hide what is told of the formula", async () => {
  const { editor } = await editorOn("");
  await userEvent.keyboard("gra");
  await soon(() => {
    const list = inside(editor, ".cm-tooltip-autocomplete").getBoundingClientRect();
    expect(list.top).toBeGreaterThanOrEqual(inside(editor, ".below").getBoundingClientRect().bottom);
  });
});

test("at the foot of the screen it comes into view whole, and its list hides nothing that is told", async () => {
  const above = document.createElement("div");
  above.style.blockSize = "3000px";
  document.body.prepend(above);
  try {
    const { editor } = await editorOn("");
    await userEvent.keyboard("grain + 5 gal");
    await soon(() => {
      expect(below(editor)).toContain("gal");
      const list = inside(editor, ".cm-tooltip-autocomplete").getBoundingClientRect();
      const told = inside(editor, ".below").getBoundingClientRect();
      expect(list.height).toBeGreaterThan(0);
      expect(list.bottom <= told.top || list.top >= told.bottom).toBe(true);
      expect(inside(editor, ".buttons").getBoundingClientRect().bottom).toBeLessThanOrEqual(innerHeight);
    });
  } finally {
    above.remove();
  }
});

test("an option that was chosen with the arrows is taken by Enter", async () => {
  const { editor, kept } = await editorOn("");
  await userEvent.keyboard("strike_w");
  await soon(() => expect(listed(editor)).toContain("strike_water"));
  await userEvent.keyboard("{ArrowDown}{Enter}");
  expect(editor.text).toBe("strike_water");
  expect(kept).not.toHaveBeenCalled();
});

test("Escape puts the list away before it leaves", async () => {
  const { editor, left } = await editorOn("");
  await userEvent.keyboard("gra");
  await soon(() => expect(listed(editor)).toContain("grain"));
  await userEvent.keyboard("{Escape}");
  expect(left).not.toHaveBeenCalled();
  await userEvent.keyboard("{Escape}");
  expect(left).toHaveBeenCalledOnce();
});

test("names the argument in hand", async () => {
  const { editor } = await editorOn("strike_temperature(rest: 66 °C, grain: ");
  expect(inside(editor, ".argument mark").textContent).toBe("grain");
  expect(below(editor)).toContain("Malt mashed in");
});

test("says what a formula waits for, and a label with markup in it is shown as text", async () => {
  const { editor, session } = await editorOn("rest_measured + 1 Δ°C");
  expect(below(editor)).toBe("waits for Rest measured temperature");
  session.dispatch({ edit: "set-label", of: "mash.rest_measured", label: "<img src=x onerror=alert(1)>" });
  await drawn(editor);
  expect(below(editor)).toBe("waits for <img src=x onerror=alert(1)> temperature");
});

test("says what a log has too few entries for", async () => {
  const { editor } = await editorOn("first(cellar.readings.gravity where gravity < 0 °P)");
  expect(below(editor)).toBe("waits for Daily readings: there is no entry to take gravity");
});

test("follows the book while it is open", async () => {
  const { editor, session } = await editorOn("strike_water / grain as L/kg");
  session.dispatch({ edit: "set-formula", cell: "mash.strike_water", formula: "850 L" });
  await drawn(editor);
  expect(below(editor)).toBe("gives 4 L/kg volume per mass");
});

test("a screen reader is told after a pause", async () => {
  const { editor } = await editorOn("6 gal");
  await vi.waitFor(
    () => expect(inside(editor, "[role=status]").textContent).toMatch(/^Faulty: "gal" .* F2: Write US gal\.$/),
    { timeout: 3_000 },
  );
});

test("lines that were pasted outside parentheses become one", async () => {
  const { editor, kept } = await editorOn("");
  const data = new DataTransfer();
  data.setData("text/plain", "max(\n  grain,\n  2 sack\n)\n* 2");
  inside(editor, ".cm-content").dispatchEvent(
    new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true }),
  );
  await userEvent.keyboard("{Enter}");
  expect(kept).toHaveBeenCalledExactlyOnceWith("max(\n  grain,\n  2 sack\n) * 2");
});

test("a keystroke in a book of 2,000 lines is looked at and told well within a frame", async () => {
  const lines = Array.from({ length: 2_000 }, (_, at) =>
    at === 0 ? "line_0 = 640 L" : `line_${at} = line_${at - 1} * 1.001 + ${at} mL`,
  );
  const session = createSession(`gylebook 1\nsheet mash "Mash"\n${lines.join("\n")}\n`);
  const context = { sheet: "mash", cell: "mash.line_1999" };
  const editor = await mount("gyle-formula-editor", { session, context, formula: "", label: "Formula" });
  const times: number[] = [];
  for (const key of "if line_1998 > 3 hL then round_up(line_1998, 25 L) else line_0 / 2 as hL") {
    const before = performance.now();
    // The only way to type from a page as a keyboard does; the browser's own input events follow.
    document.execCommand("insertText", false, key);
    await editor.updateComplete;
    times.push(performance.now() - before);
    await drawn(editor);
  }
  // What else the machine does only ever adds: the quicker quarter tells what the work itself takes.
  times.sort((a, b) => a - b);
  expect(below(editor)).toMatch(/^gives [\d.]+ hL volume$/);
  expect(times[times.length >> 2]).toBeLessThan(FRAME);
});

test("a name in what an argument is for is set as it is typed", async () => {
  const { editor } = await editorOn("strike_temperature(rest: 66 °C, grain: 200 kg, water: ");
  await soon(() => expect(below(editor)).toContain("Strike water, measured at water_metered_at."));
  expect([...(editor.shadowRoot?.querySelectorAll(".argument code") ?? [])].map((each) => each.textContent)).toContain(
    "water_metered_at",
  );
});
