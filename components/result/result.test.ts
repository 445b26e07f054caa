import { expect, test, vi } from "vitest";
import { userEvent } from "vitest/browser";
import { createSession } from "../../engine/index.ts";
import { barriers, drawn, inside, mount, smallBook, soon } from "../../tests/support/mount.ts";
import "../entry/entry.ts";
import "./result.ts";

const words = (element: Element): string => element.shadowRoot?.textContent?.replace(/\s+/g, " ") ?? "";

test("meets no barrier in any state", async () => {
  const session = smallBook();
  for (const name of ["mash.mash_ratio", "mash.warmer", "mash.bad", "mash.worse"]) {
    const line = await mount("gyle-result", { session, name, formulas: true });
    expect(await barriers(line), name).toEqual([]);
  }
});

test("shows label, figure, unit, and the formula when asked", async () => {
  // 640 L over 8.5 sacks of 25 kg is 3.0117… L/kg, by hand.
  const line = await mount("gyle-result", { session: smallBook(), name: "mash.mash_ratio", formulas: true });
  expect(inside(line, "output").textContent).toBe("3.01");
  expect(inside(line, ".unit").textContent).toBe("L/kg");
  expect(inside(line, ".formula").textContent).toBe("strike_water / grain as L/kg");
  line.formulas = false;
  await drawn(line);
  expect(line.shadowRoot?.querySelector(".formula")).toBeNull();
});

test("a formula beneath keeps the blanks round its figures", async () => {
  const session = smallBook();
  session.dispatch({ edit: "set-formula", cell: "mash.mash_ratio", formula: "640 L / 200 kg as L/kg" });
  const line = await mount("gyle-result", { session, name: "mash.mash_ratio", formulas: true });
  const texts = document.createTreeWalker(inside(line, ".formula"), NodeFilter.SHOW_TEXT);
  const widths = new Map<string, number>();
  for (let text = texts.nextNode(); text !== null; text = texts.nextNode()) {
    const range = document.createRange();
    range.selectNodeContents(text);
    if (text.textContent !== null) widths.set(text.textContent, range.getBoundingClientRect().width);
  }
  // Letters are of one width: the stroke with its blanks has three.
  const letter = (widths.get("640 L") ?? Number.NaN) / 5;
  expect((widths.get(" / ") ?? Number.NaN) / letter).toBeCloseTo(3, 1);
});

test("the frame around its label in hand touches no letter", async () => {
  const line = await mount("gyle-result", { session: smallBook(), name: "mash.mash_ratio" });
  const label = inside(line, ".label button");
  label.focus();
  const { outlineOffset, outlineWidth } = getComputedStyle(label);
  // A frame that lies within its box reaches as far in as it is set.
  const frame = label.getBoundingClientRect().left - Number.parseFloat(outlineOffset);
  const letters = document.createRange();
  letters.selectNodeContents(label);
  expect(Number.parseFloat(outlineWidth)).toBe(3);
  expect(frame).toBeLessThan(letters.getBoundingClientRect().left - 1);
});

test("says in words what it waits for, and leads there", async () => {
  const line = await mount("gyle-result", { session: smallBook(), name: "mash.warmer" });
  expect(words(line)).toContain("waits for");
  const went = vi.fn();
  line.addEventListener("gyle-go", (event) => went(event.detail.name));
  inside(line, "button.link").click();
  expect(went).toHaveBeenCalledWith("mash.rest_measured");
});

test("says a fault in a sentence, and only once for what follows from it", async () => {
  const session = smallBook();
  const own = await mount("gyle-result", { session, name: "mash.bad" });
  expect(words(own)).toContain("cannot be added");
  const other = await mount("gyle-result", { session, name: "mash.worse" });
  expect(words(other)).toContain("because of");
  expect(words(other)).not.toContain("cannot be added");
});

test("shows a script in a note as text", async () => {
  const session = smallBook();
  session.dispatch({ edit: "set-formula", cell: "mash.mash_ratio", formula: "1 # <img src=x onerror=alert(1)>" });
  const line = await mount("gyle-result", { session, name: "mash.mash_ratio" });
  expect(line.shadowRoot?.querySelector("img")).toBeNull();
  expect(words(line)).toContain("<img src=x");
});

test("draws anew when what it hangs on changes", async () => {
  const session = smallBook();
  const line = await mount("gyle-result", { session, name: "mash.mash_ratio" });
  session.dispatch({ edit: "set-formula", cell: "mash.strike_water", formula: "425 L" });
  await drawn(line);
  // 425 / 212.5 is 2.
  expect(Number(inside(line, "output").textContent)).toBe(2);
});

test("a moment that was worked out stands in one line, written as fields write it", async () => {
  const session = createSession("gylebook 1\nlibrary 1\nsheet done\nfrom = 2026-03-06T18:00\ndue = from + 23 h\n");
  const line = await mount("gyle-result", { session, name: "done.due" });
  const figure = inside(line, "output");
  expect(figure.textContent).toBe("2026-03-07 17:00");
  expect(figure.getBoundingClientRect().height).toBeLessThan(30);
});

test("a text result takes the room that is there, and stands beneath its label where that is narrow", async () => {
  const session = createSession(
    'gylebook 1\nsheet fills\nverdict = if 1 < 2 then "passes: 80 packages, mean 501.5 mL, not below 499.1 mL, none too short" else "no"\n',
  );
  const line = await mount("gyle-result", { session, name: "fills.verdict" });
  const sheet = line.parentElement as HTMLElement;
  const [text, label] = [inside(line, "output"), inside(line, ".label")];
  sheet.style.inlineSize = "980px";
  expect(text.getBoundingClientRect().height).toBeLessThan(70);
  expect(text.getBoundingClientRect().left).toBeGreaterThan(label.getBoundingClientRect().right);
  sheet.style.inlineSize = "370px";
  expect(text.getBoundingClientRect().top).toBeGreaterThanOrEqual(label.getBoundingClientRect().bottom);
  expect(text.getBoundingClientRect().width).toBeGreaterThan(300);
});

test("a formula that is being written is there again when the line comes back, and takes no focus then", async () => {
  for (const [name, written] of [
    ["mash.mash_ratio", "strike_water / (grain"],
    ["mash.grain", "8.5 sack + 1 kg"],
  ] as const) {
    const session = smallBook();
    const before = session.text();
    const tag = name === "mash.grain" ? "gyle-entry" : "gyle-result";
    const editor = async (line: Element): Promise<HTMLElement> => {
      const found = await soon(() => inside(inside(line, "gyle-formula-editor"), ".cm-content"));
      await drawn(found);
      return found;
    };
    const first = await mount(tag, { session, name });
    first.editing = true;
    const field = await editor(first);
    await soon(() => expect(inside(inside(first, "gyle-formula-editor"), ":focus")).toBe(field));
    await userEvent.keyboard("{Control>}a{/Control}{Delete}");
    await userEvent.keyboard(written);
    first.remove();
    const again = await mount(tag, { session, name });
    expect((await editor(again)).textContent).toContain(written);
    expect(document.activeElement).toBe(document.body);
    expect(session.text()).toBe(before);
    // Left as it was, it is gone for good.
    inside(inside(again, "gyle-formula-editor"), ".buttons button + button").click();
    await drawn(again);
    again.remove();
    const last = await mount(tag, { session, name });
    expect(last.editing).toBe(false);
  }
});
