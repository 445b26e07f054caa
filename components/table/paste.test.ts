import { beforeEach, expect, test } from "vitest";
import { createSession, type Session } from "../../engine/index.ts";
import { appears, drawn, inside, mount, SMALL_BOOK, soon } from "../../tests/support/mount.ts";
import type { GyleForm } from "../form/form.ts";
import type { GyleTable } from "./table.ts";
import "./table.ts";

let session: Session;
let table: GyleTable;
let said: { says: string; grave?: boolean }[];

const TABLE = "cellar.readings";
const entriesOf = (column: string): string[] =>
  Array.from({ length: session.table(TABLE)?.rowCount ?? 0 }, (_, row) => session.entry(TABLE, row, column).text);
const paste = async (text: string, column = 1): Promise<void> => {
  table.at = { row: 0, column };
  await drawn(table);
  const clipboardData = new DataTransfer();
  clipboardData.setData("text/plain", text);
  inside(table, `[data-row="0"][data-column="${column}"]`).dispatchEvent(
    new ClipboardEvent("paste", { clipboardData, bubbles: true, composed: true, cancelable: true }),
  );
  await drawn(table);
};
const choose = (form: GyleForm, at: number, value: string): void => {
  const select = form.shadowRoot?.querySelectorAll("select")[at];
  if (select === undefined) throw new Error(`there is no question ${at}`);
  select.value = value;
  select.dispatchEvent(new Event("change"));
};
const submit = (form: GyleForm): void => inside(form, "footer button:not(.leave)").click();
const labels = (form: GyleForm): (string | undefined)[] =>
  [...(form.shadowRoot?.querySelectorAll("label") ?? [])].map((each) => each.textContent?.trim());
const options = (form: GyleForm, at = 0): string[] =>
  [...(form.shadowRoot?.querySelectorAll("select")[at]?.options ?? [])].map((each) => each.label);

beforeEach(async () => {
  session = createSession(SMALL_BOOK);
  said = [];
  table = await mount("gyle-table", { session, name: TABLE });
  table.addEventListener("gyle-say", ({ detail }) => said.push(detail));
  await drawn(table);
});

test("entries that can be read in two ways are asked about once for their column, before anything is put in", async () => {
  await paste("1.034\n1022\n1.016\n9.5\n1.012");
  const form = await appears<GyleForm>(table, "gyle-form");
  expect(session.canUndo).toBe(false);
  expect(labels(form)).toEqual(['Gravity: "1.034" and 2 more like it']);
  expect(options(form)).toEqual(["to choose", "1.034 SG (8.53 °P)", "1.034 °P"]);
  // Nothing is taken for meant.
  submit(form);
  await drawn(form);
  expect(form.shadowRoot?.textContent).toContain("Choose which is meant.");
  expect(session.canUndo).toBe(false);
  choose(form, 0, "0");
  submit(form);
  await soon(() => expect(said).toEqual([{ says: "5 rows were pasted.", grave: false }]));
  expect(entriesOf("gravity")).toEqual(["1.034 SG", "1.022 SG", "1.016 SG", "9.5", "1.012 SG"]);
  session.undo();
  expect(entriesOf("gravity")).toEqual(["12.1", "1.0415 SG", "7.4"]);
});

test("the other reading is put in as degrees", async () => {
  await paste("1.034\n1022");
  const form = await appears<GyleForm>(table, "gyle-form");
  choose(form, 0, "1");
  submit(form);
  await soon(() => expect(entriesOf("gravity")).toEqual(["1.034", "1.022 SG", "7.4"]));
});

test("a question that is left puts nothing in, and says so", async () => {
  await paste("1.034\t18\n1022\t18.5");
  const form = await appears<GyleForm>(table, "gyle-form");
  inside(form, ".leave").click();
  await soon(() => expect(said).toEqual([{ says: "Nothing was pasted." }]));
  expect(session.canUndo).toBe(false);
});

test("unlike questions are asked apart, in one dialog", async () => {
  await paste("2/3 8:00\t1.034\t18-19\n3/3 8:00\t1.030\t18\n4/3 8:00\t1,250 SG\t17-18", 0);
  const form = await appears<GyleForm>(table, "gyle-form");
  expect(labels(form)).toEqual([
    'Taken: "2/3 8:00" and 1 more like it',
    'Gravity: "1.034" and 1 more like it',
    'Temp: "18-19" and 1 more like it',
    'Gravity: "1,250 SG"',
  ]);
  for (const [at, value] of ["0", "0", "1", "1"].entries()) choose(form, at, value);
  submit(form);
  await soon(() => expect(said).toHaveLength(1));
  expect(entriesOf("taken")).toEqual(["2026-03-02T08:00", "2026-03-03T08:00", "2026-03-04T08:00"]);
  expect(entriesOf("temp")).toEqual(["19", "18", "18"]);
  expect(entriesOf("gravity")).toEqual(["1.034 SG", "1.030 SG", "1.250 SG"]);
});

test("what could not be read, and what had no column, is told with how many there are and where the first is", async () => {
  await paste("9.5\t18\t\t4\n9 or so\tx\t\t\n8.1\t19");
  expect(said).toEqual([
    {
      says: '3 rows were pasted. 2 entries could not be read and stand as they came, the first in row 2, Gravity: "9 or so". 1 entry had no column and was left out.',
      grave: true,
    },
  ]);
  expect(entriesOf("gravity")).toEqual(["9.5", "9 or so", "8.1"]);
});

test("what fell on a worked column is told; when all of it did, nothing was pasted", async () => {
  await paste("9.5\t18\t4\n9.1\t18\t5");
  expect(said.at(-1)).toEqual({
    says: "2 rows were pasted. 2 entries fell on a worked column and were left out.",
    grave: false,
  });
  await paste("4", 3);
  expect(said.at(-1)).toEqual({
    says: "Nothing was pasted. 1 entry fell on a worked column and was left out.",
    grave: false,
  });
});
