import { expect, test, vi } from "vitest";
import type { Session } from "../../engine/index.ts";
import { barriers, drawn, inside, mount, smallBook, soon } from "../../tests/support/mount.ts";
import "./readings.ts";
import type { GyleReadings } from "./readings.ts";

/** Figures as a logger writes them: the first row is there already, the second corrects, the third is new, the fourth is none. */
const EXPORT = `Taken;Gravity (°P);Temp (°F)
2026-03-02 08:15;12,1;64,04
2026-03-03 08:05;10,2;64,9
2026-03-05 08:10;5,25;65,5
2026-03-06 08:10;foam;65,5
`;

const UNDECIDED = `Taken,Gravity (°P),Temp (°C)
03/04/2026 08:00,12.1,18.2
04/04/2026 08:00,10.4,18.4
`;

const open = async (csv: string | File | null, session: Session = smallBook(), table = "cellar.readings") => {
  const element = await mount("gyle-readings", { session, table, sheet: "cellar", csv });
  return { element, session };
};
const status = (element: GyleReadings): string => inside(element, "footer p").textContent ?? "";
const looked = async (element: GyleReadings): Promise<void> => {
  await element.updateComplete;
  await vi.waitFor(() => expect(inside(element, ".body").getAttribute("aria-busy")).toBe("false"), { timeout: 60_000 });
  await drawn(element);
};
const counts = (element: GyleReadings): number[] =>
  [...(element.shadowRoot?.querySelectorAll(".counts dd") ?? [])].map((each) => Number(each.textContent));
const cells = (element: GyleReadings, of: string): string[] =>
  [...(element.shadowRoot?.querySelectorAll(`[aria-labelledby="${of}"] tbody tr`) ?? [])].map((row) =>
    [...row.children].map((cell) => cell.textContent?.trim()).join("|"),
  );

test("meets no barrier while a file is to be chosen", async () => {
  const { element } = await open(null);
  expect(await barriers(element)).toEqual([]);
});

test("meets no barrier with questions, and with what a file would bring", async () => {
  const { element } = await open(UNDECIDED);
  await looked(element);
  expect(await barriers(element)).toEqual([]);
  element.take(EXPORT);
  await looked(element);
  expect(counts(element).length).toBe(5);
  expect(await barriers(element)).toEqual([]);
});

test("shows the first rows as read, corrections from old to new, rejects with their reason, and counts that add up", async () => {
  const { element } = await open(EXPORT);
  await looked(element);
  const [read = 0, ...parts] = counts(element);
  // In the book: 2026-03-02T08:15 has 12.1 °P and 17.8 °C, which is 64.04 °F; 2026-03-03 another gravity.
  expect([read, ...parts]).toEqual([4, 1, 1, 1, 1]);
  expect(parts.reduce((sum, part) => sum + part, 0)).toBe(read);
  expect(cells(element, "first")[2]).toMatch(/^4\|2026-03-05 08:10\|5\.25\|/);
  expect(cells(element, "corrected")).toEqual(["2|3|Gravity|1.0415 SG|10.2"]);
  expect(cells(element, "rejected")[0]).toContain("5|2026-03-06 08:10;foam;65,5|");
});

test("reads in as one step, and undo gives the book back to the letter", async () => {
  const { element, session } = await open(EXPORT);
  const before = session.text();
  await looked(element);
  inside(element, "footer .firm").click();
  await vi.waitFor(() => expect(session.table("cellar.readings")?.rowCount).toBe(4), { timeout: 10_000 });
  expect(session.text()).toContain("2026-03-03T08:05, 10.2, 64.9 °F");
  expect(session.undoLabel).toBe("Read in pasted rows");
  session.undo();
  expect(session.text()).toBe(before);
  expect(session.canUndo).toBe(false);
});

test("asks what the file cannot tell, reads nothing before it is answered, and remembers the answer", async () => {
  const { element, session } = await open(UNDECIDED);
  await looked(element);
  expect(inside(element, ".question legend").textContent).toContain("In which order do the dates");
  expect(inside<HTMLButtonElement>(element, "footer .firm").disabled).toBe(true);
  expect(status(element)).toContain("1 answer is wanted");
  inside(element, 'input[type="radio"][value="month-first"]').click();
  await looked(element);
  expect(cells(element, "first")[0]).toContain("2026-03-04 08:00");
  inside(element, "footer .firm").click();
  await vi.waitFor(() => expect(session.table("cellar.readings")?.rowCount).toBe(5), { timeout: 10_000 });
  const { element: again } = await open(UNDECIDED, session);
  await looked(again);
  expect(counts(again)).toEqual([2, 0, 0, 2, 0]);
  expect(status(again)).toContain("there already");
});

test("an answer to one question is none to the next, which can be answered as it is likelier", async () => {
  const { element: readings } = await open("Taken,Gravity\n03/04/2026 08:15,1.012\n04/04/2026 08:15,1.012\n");
  await looked(readings);
  const radios = (): HTMLInputElement[] => [
    ...(readings.shadowRoot?.querySelectorAll<HTMLInputElement>(".question input[type=radio]") ?? []),
  ];
  expect(new Set(radios().map(({ name }) => name))).toEqual(new Set(["date-order:Taken", "gravity:Gravity"]));
  radios()[0]?.click();
  await soon(() => expect(new Set(radios().map(({ name }) => name))).toEqual(new Set(["gravity:Gravity"])));
  expect(radios().filter(({ checked }) => checked)).toEqual([]);
  radios()
    .find(({ value }) => value === "SG")
    ?.click();
  await soon(() => expect(radios()).toEqual([]));
});

test("names the columns that go nowhere and those that stay empty, beneath the first rows", async () => {
  const { element } = await open("Reading made,Exported on,Gravity (°P)\n2026-03-05 08:15,2026-03-09,5.2\n");
  await looked(element);
  const under = [...(element.shadowRoot?.querySelectorAll("section:has(#first) p") ?? [])].map((p) => p.textContent);
  expect(under).toEqual(["Not read: Exported on.", "Left empty in the table: Temp."]);
});

test("a file that is laid out otherwise is read afresh with a calm sentence, one that has changed is stopped at", async () => {
  const { element, session } = await open(EXPORT);
  await looked(element);
  inside(element, "footer .firm").click();
  await vi.waitFor(() => expect(session.table("cellar.readings")?.rowCount).toBe(4), { timeout: 60_000 });
  const other = "Stamp,Plato,Beer °C\n2026-03-02 08:15,12.1,17.8\n2026-03-07 08:10,4.0,18.0\n";
  const { element: again } = await open(other, session);
  await looked(again);
  const texts = (of: string): string[] =>
    [...(again.shadowRoot?.querySelectorAll(of) ?? [])].map((each) => each.textContent ?? "");
  expect(texts(".notes li")).toEqual(["This file is not laid out like the one before; it is read afresh."]);
  expect(texts(".against")).toEqual([]);
  expect(texts(".body").join()).not.toContain("how it was read last time");
  // 17.8 °C is 64.04 °F: the first row is there already.
  expect(counts(again)).toEqual([2, 1, 0, 1, 0]);
  expect(inside<HTMLButtonElement>(again, "footer .firm").disabled).toBe(false);
  again.take(EXPORT.replace("Gravity", "Extract"));
  await looked(again);
  expect(texts(".against li")).toEqual(['The column "Gravity (°P)" is no longer in the file.']);
  expect(inside<HTMLButtonElement>(again, "footer .firm").disabled).toBe(true);
});

test("a second tank is asked about though a mapping is kept, and the answer is taken", async () => {
  const { element, session } = await open("Taken,Tank,Gravity (°P)\n2026-03-05 08:15,FV1,5.2\n");
  await looked(element);
  inside(element, "footer .firm").click();
  await vi.waitFor(() => expect(session.table("cellar.readings")?.rowCount).toBe(4), { timeout: 60_000 });
  const rows = "2026-03-06 08:15,FV1,4.9\n2026-03-07 08:15,FV2,11.9\n";
  const { element: again } = await open(`Taken,Tank,Gravity (°P)\n${rows}`, session);
  await looked(again);
  inside(again, 'input[type="radio"][value="FV1"]').click();
  await vi.waitFor(() => expect(counts(again)).toEqual([1, 1, 0, 0, 0]), { timeout: 60_000 });
});

test("what the file shows by itself can be set otherwise", async () => {
  const { element } = await open(EXPORT);
  await looked(element);
  const unit = inside<HTMLInputElement>(element, '.unit-field[aria-label*="Temp"]');
  expect(unit.value).toBe("°F");
  const column = inside<HTMLSelectElement>(element, 'select[aria-label*="Temp"]');
  column.value = "(none)";
  column.dispatchEvent(new Event("change"));
  await looked(element);
  expect(cells(element, "first")[2]).toBe("4|2026-03-05 08:10|5.25|–");
});

test("makes a new table for the file, with its columns, in the same step", async () => {
  const session = smallBook();
  const before = session.text();
  const { element } = await open(EXPORT.replace("foam", "4,75"), session, "");
  await looked(element);
  expect(counts(element)).toEqual([4, 4, 0, 0, 0]);
  inside(element, "footer .firm").click();
  await vi.waitFor(() => expect(session.table("cellar.Readings_2")?.rowCount).toBe(4), { timeout: 10_000 });
  expect(session.problems().faults.filter(({ name }) => name.startsWith("cellar.Readings_2"))).toEqual([]);
  expect(session.table("cellar.Readings_2")?.columns.map(({ unitText }) => unitText)).toEqual(["", "°P", "°F"]);
  session.undo();
  expect(session.text()).toBe(before);
});

test("stopped, it leaves the book as it was and the file unread", async () => {
  const rows = Array.from({ length: 200_000 }, (_, row) => `2026-03-02 08:15;${12 - row / 1e5};64`).join("\n");
  const { element, session } = await open(null);
  const before = session.text();
  element.take(`Taken;Gravity (°P);Temp (°F)\n${rows}`);
  await drawn(element);
  inside(element, ".far button").click();
  await drawn(element);
  expect(inside(element, ".paste textarea")).toBeTruthy();
  expect(session.text()).toBe(before);
  expect(inside<HTMLButtonElement>(element, "footer .firm").disabled).toBe(true);
});

test("a file that is no table is refused in a sentence", async () => {
  const { element } = await open(new File([new Uint8Array(512)], "photo.csv"));
  await looked(element);
  expect(inside(element, ".refused").textContent).toContain("zero bytes");
});

test("a file goes to the table that files like it were read into before, unless another is asked for", async () => {
  const { element, session } = await open(EXPORT);
  await looked(element);
  inside(element, "footer .firm").click();
  await vi.waitFor(() => expect(session.undoLabel).toBe("Read in pasted rows"), { timeout: 60_000 });
  const again = { session, table: "", sheet: "cellar", csv: null };
  const likeliest = await mount("gyle-readings", { ...again, likeliest: true });
  likeliest.take(EXPORT);
  await soon(() => expect(likeliest.table).toBe("cellar.readings"));
  const asked = await mount("gyle-readings", again);
  asked.take(EXPORT);
  await looked(asked);
  expect(asked.table).toBe("");
});
