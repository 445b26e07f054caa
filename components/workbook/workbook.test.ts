import { afterEach, expect, test } from "vitest";
import { page } from "vitest/browser";
import { appears, barriers, drawn, inside, mount, press, SMALL_BOOK, soon, type } from "../../tests/support/mount.ts";
import "./workbook.ts";

const { innerWidth, innerHeight } = window;
afterEach(() => page.viewport(innerWidth, innerHeight));

test("meets no barrier", async () => {
  expect(await barriers(await mount("gyle-workbook", { text: SMALL_BOOK }))).toEqual([]);
});

test("is usable alone: text goes in, a change comes out with the whole file", async () => {
  const book = await mount("gyle-workbook", { text: SMALL_BOOK });
  const files: string[] = [];
  book.addEventListener("gyle-change", (event) => files.push(event.detail.text));
  book.session.dispatch({ edit: "set-formula", cell: "mash.strike_water", formula: "600 L" });
  await drawn(book);
  expect(files).toEqual([SMALL_BOOK.replace("640 L", "600 L")]);
  expect(book.text).toBe(files[0]);
});

test("goes to a line on another sheet and puts the focus there", async () => {
  const book = await mount("gyle-workbook", { text: SMALL_BOOK });
  await book.goTo("cellar.original");
  expect(book.here).toBe("cellar");
  const line = inside(inside(book, "gyle-sheet"), "gyle-entry");
  expect(line.shadowRoot?.activeElement?.id).toBe("field");
});

test("undoes across sheets with a key, and redoes", async () => {
  const book = await mount("gyle-workbook", { text: SMALL_BOOK });
  book.session.dispatch({ edit: "set-formula", cell: "cellar.original", formula: "13 °P" });
  await drawn(book);
  press(inside(book, "main"), "z", { ctrlKey: true });
  expect(book.text).toBe(SMALL_BOOK);
  press(inside(book, "main"), "z", { ctrlKey: true, shiftKey: true });
  expect(book.session.cell("cellar.original")?.shown).toBe("13 °P");
});

test("says in words that a result changed its kind", async () => {
  const book = await mount("gyle-workbook", { text: SMALL_BOOK });
  const line = inside(inside(book, "gyle-sheet"), "gyle-result");
  line.dispatchEvent(
    new CustomEvent("gyle-say", {
      detail: { says: "Mash ratio was volume per mass and is now volume." },
      bubbles: true,
      composed: true,
    }),
  );
  await drawn(book);
  await expect.poll(() => inside(book, "gyle-slip").shadowRoot?.textContent ?? "").toContain("is now volume");
});

test("a text that is no book is refused in a sentence", async () => {
  const book = await mount("gyle-workbook", { text: "gylebook 99\n" });
  expect(inside(book, ".refusal").textContent?.length).toBeGreaterThan(20);
});

test("a lens changes what is shown and not the file", async () => {
  const book = await mount("gyle-workbook", { text: SMALL_BOOK, lens: "US" });
  await drawn(book);
  expect(book.session.cell("mash.mash_ratio")?.unitText).not.toBe("L/kg");
  expect(book.text).toBe(SMALL_BOOK);
});

/** Many lines with notes, which stand beside a figure while the sheet is wide and beneath it once it is narrow. */
const NOTED = `gylebook 1\nsheet long "Long"\n${Array.from({ length: 60 }, (_, at) => `r${at} = ${at} kg * 2 # a note that takes a line of its own`).join("\n")}\n`;
const atDesk = async (width: number): Promise<HTMLElementTagNameMap["gyle-workbook"]> => {
  await page.viewport(width, 800);
  return mount("gyle-workbook", { text: NOTED });
};
const chosenAt = async (book: Element, at: number): Promise<HTMLElement> => {
  const sheet = inside(book, "gyle-sheet");
  return soon(() => {
    const line = sheet.shadowRoot?.querySelectorAll<HTMLElement>("gyle-result")[at];
    if (line === undefined) throw new Error("the line is not drawn yet");
    return line;
  });
};

test("the working takes its room when a line is chosen, and the line stays under the pointer", async () => {
  const book = await atDesk(1280);
  const main = inside(book, "main");
  expect(book.shadowRoot?.querySelector("aside")).toBeNull();
  const wide = main.clientWidth;
  const line = await chosenAt(book, 30);
  line.scrollIntoView({ block: "center" });
  await drawn(book);
  const top = line.getBoundingClientRect().top;
  inside(line, ".label button").click();
  await drawn(book);
  await appears(book, "gyle-working");
  expect(main.clientWidth).toBeLessThan(wide - 300);
  expect(Math.abs(line.getBoundingClientRect().top - top)).toBeLessThan(1.5);
  inside(book, "aside button").click();
  await drawn(book);
  expect(book.shadowRoot?.querySelector("aside")).toBeNull();
  expect(Math.abs(line.getBoundingClientRect().top - top)).toBeLessThan(1.5);
  expect(line.shadowRoot?.activeElement?.textContent).toBe("R30");
});

test("a field that is only typed into brings no working, and another sheet puts it away", async () => {
  await page.viewport(1280, 800);
  const book = await mount("gyle-workbook", { text: SMALL_BOOK });
  const sheet = inside(book, "gyle-sheet");
  inside(sheet, "gyle-entry").focus();
  await drawn(book);
  expect(book.selected).toBe("mash.grain");
  expect(book.shadowRoot?.querySelector("aside")).toBeNull();
  inside(inside(sheet, "gyle-result"), ".label button").click();
  await appears(book, "aside");
  await book.goTo("cellar");
  expect(book.shadowRoot?.querySelector("aside")).toBeNull();
});

test("the working of a line that was deleted is not kept open", async () => {
  await page.viewport(1280, 800);
  const book = await mount("gyle-workbook", { text: SMALL_BOOK });
  inside(inside(inside(book, "gyle-sheet"), "gyle-result"), ".label button").click();
  await appears(book, "aside");
  book.session.dispatch({ edit: "remove-item", sheet: "mash", at: 4 });
  await drawn(book);
  expect(book.session.cell("mash.mash_ratio")).toBeNull();
  expect(book.shadowRoot?.querySelector("aside")).toBeNull();
});

test("a line that is drawn anew, renamed or deleted leaves the focus on what stands in its place", async () => {
  const book = await mount("gyle-workbook", { text: SMALL_BOOK });
  const focused = (): string | undefined =>
    (inside(book, "gyle-sheet").shadowRoot?.activeElement as (Element & { name?: string }) | null)?.name;
  await book.goTo("mash.mash_ratio");
  await expect.poll(focused).toBe("mash.mash_ratio");
  // A formula becomes a figure: another element draws it.
  book.session.dispatch({ edit: "set-formula", cell: "mash.mash_ratio", formula: "3 L/kg" });
  await expect.poll(() => inside(book, "gyle-sheet").shadowRoot?.activeElement?.localName).toBe("gyle-entry");
  expect(focused()).toBe("mash.mash_ratio");
  book.session.dispatch({ edit: "rename", of: "mash.mash_ratio", name: "thickness" });
  await expect.poll(focused).toBe("mash.thickness");
  const at = book.session.workbook.sheets[0]?.pages
    .flat()
    .findIndex((each) => "name" in each && each.name === "thickness");
  book.session.dispatch({ edit: "move-item", sheet: "mash", at: at ?? 0, to: 0 });
  await drawn(book);
  await expect.poll(focused).toBe("mash.thickness");
  book.session.dispatch({ edit: "remove-item", sheet: "mash", at: 0 });
  await expect.poll(focused).toBe("mash.grain");
});

test("a line that is begun with keys has the focus once it is there", async () => {
  const book = await mount("gyle-workbook", { text: SMALL_BOOK });
  const sheet = inside(book, "gyle-sheet");
  await book.goTo("mash.grain");
  press(inside(book, "main"), "n", { altKey: true, code: "KeyN" });
  const form = await appears<HTMLElementTagNameMap["gyle-form"]>(sheet, "gyle-form");
  await appears(form, "#formula");
  await type(inside<HTMLInputElement>(form, "#label"), "Sparge water");
  await type(inside<HTMLInputElement>(form, "#formula"), "700 L");
  inside(form, ".firm").click();
  await expect
    .poll(() => (sheet.shadowRoot?.activeElement as (Element & { name?: string }) | null)?.name)
    .toBe("mash.sparge_water");
});

test("a change from elsewhere takes the focus from nobody", async () => {
  const book = await mount("gyle-workbook", { text: SMALL_BOOK });
  await book.goTo("mash.mash_ratio");
  const other = document.body.appendChild(document.createElement("input"));
  other.focus();
  book.session.dispatch({ edit: "set-formula", cell: "mash.mash_ratio", formula: "3 L/kg" });
  await drawn(book);
  await new Promise((then) => requestAnimationFrame(() => setTimeout(then, 50)));
  expect(document.activeElement).toBe(other);
  other.remove();
});
