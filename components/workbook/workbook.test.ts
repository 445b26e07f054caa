import { expect, test } from "vitest";
import { barriers, drawn, inside, mount, press, SMALL_BOOK } from "../../tests/support/mount.ts";
import "./workbook.ts";

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
  expect(inside(book, "gyle-slip").shadowRoot?.textContent).toContain("is now volume");
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
