import { expect, test, vi } from "vitest";
import { createSession } from "../../engine/index.ts";
import { barriers, drawn, inside, mount } from "../../tests/support/mount.ts";
import "../table/table.ts";
import { showTrouble } from "./trouble.ts";

/** Readings every hour with a gap of eight hours, one time twice, and a digital probe that came unplugged (85 °C). */
const BOOK = `gylebook 1
library 1
sheet cellar
table log
  column taken : instant
  column temp : °C
  rows
${Array.from({ length: 30 }, (_, row) => {
  const hour = row < 10 ? row : row + 8;
  const at = new Date(Date.UTC(2026, 2, 2, hour === 25 ? 24 : hour)).toISOString().slice(0, 16);
  return `    ${at}, ${row === 20 ? 85 : (18 + (row % 5) / 10).toFixed(1)}`;
}).join("\n")}
  end
`;

test("lists what does not look like a reading, leads there, removes nothing, and meets no barrier", async () => {
  const session = createSession(BOOK);
  const before = session.text();
  const table = await mount("gyle-table", { session, name: "cellar.log" });
  showTrouble(table, session, "cellar.log");
  const list = table.shadowRoot?.querySelector("gyle-trouble");
  if (!list) throw new Error("no list is shown");
  await vi.waitFor(() => expect(inside(list, "ol").children.length).toBeGreaterThan(0), { timeout: 60_000 });
  await drawn(list);
  const said = [...inside(list, "ol").children].map((each) => each.textContent?.replace(/\s+/g, " ").trim());
  expect(said.find((each) => each?.includes("gap"))).toContain("Row 11");
  expect(said.find((each) => each?.includes("time twice"))).toContain("Row 18");
  expect(said.find((each) => each?.includes("failed probe"))).toMatch(/^Row 21 .*in Temp: 85/);
  expect(await barriers(list)).toEqual([]);
  [...(list.shadowRoot?.querySelectorAll<HTMLElement>("li button") ?? [])].at(-1)?.click();
  await drawn(table);
  expect(table.at.row).toBeGreaterThan(15);
  expect(session.text()).toBe(before);
  inside(list, "header button").click();
  expect(table.shadowRoot?.querySelector("gyle-trouble")).toBeNull();
});
