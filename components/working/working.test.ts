import { expect, test, vi } from "vitest";
import { userEvent } from "vitest/browser";
import { createSession } from "../../engine/index.ts";
import { barriers, drawn, inside, mount, SMALL_BOOK, smallBook } from "../../tests/support/mount.ts";
import "./working.ts";

const text = (element: Element | null | undefined): string => (element?.textContent ?? "").replace(/\s+/g, " ").trim();
const all = (element: Element, selector: string): string[] =>
  [...(element.shadowRoot?.querySelectorAll(selector) ?? [])].map(text);

test("meets no barrier, ready, waiting, faulty, column or note", async () => {
  const session = smallBook();
  for (const name of [
    "mash.mash_ratio",
    "mash.warmer",
    "mash.rest_measured",
    "mash.bad",
    "mash.worse",
    "cellar.readings.gone",
    "mash.grain",
  ]) {
    const working = await mount("gyle-working", { session, name });
    expect(await barriers(working), name).toEqual([]);
  }
});

test("writes out formula, figures and result", async () => {
  const working = await mount("gyle-working", { session: smallBook(), name: "mash.mash_ratio" });
  expect(all(working, "dd")).toEqual(["strike_water / grain as L/kg", "640 L / 8.5 sack as L/kg", "3.01 L/kg"]);
});

test("links what it draws on and what draws on it, by label and figure, and goes there", async () => {
  const session = smallBook();
  const working = await mount("gyle-working", { session, name: "mash.bad" });
  expect(all(working, ".links li")).toEqual(["Malt in 8.5 sack", "Strike water 640 L", "Worse faulty"]);
  const went = vi.fn();
  working.addEventListener("gyle-go", (event) => went(event.detail.name));
  await userEvent.click(inside(working, ".links button"));
  expect(went).toHaveBeenCalledExactlyOnceWith("mash.grain");
});

test("says what a line waits for and what makes it faulty", async () => {
  const session = smallBook();
  const waiting = await mount("gyle-working", { session, name: "mash.warmer" });
  expect(text(inside(waiting, ".name + *"))).toBe("waits for Rest measured");
  const faulty = await mount("gyle-working", { session, name: "mash.worse" });
  expect(text(inside(faulty, ".name + *"))).toBe("faulty because of Total");
});

test("says what the entries of a log that has begun are too few for", async () => {
  const session = createSession(
    "gylebook 1\nsheet s\ntable log\n  column taken : instant\n  column b : kg\n  rows\n    2026-03-02, 3\n  end\nscatter = spread(log.b)\n",
  );
  const working = await mount("gyle-working", { session, name: "s.scatter" });
  expect(text(inside(working, ".name + *"))).toBe("waits for Log A spread needs at least two entries.");
});

test("gives source, range, steps and caution of the brewing functions in it", async () => {
  const session = createSession(
    `${SMALL_BOOK}strike = strike_temperature(rest: 66.5 °C, grain: mash.grain, water: mash.strike_water, grain_temp: 16 °C)\n`,
  );
  const working = await mount("gyle-working", { session, name: "cellar.strike" });
  expect(text(inside(working, "section"))).toContain("Heat balance of malt, water and tun");
  expect(all(working, ".caution").join(" ")).toContain("scald");
  expect(all(working, ".usual").join(" ")).toContain("tun_temp: 20 °C");
});

test("follows the book and the lens", async () => {
  const session = smallBook();
  const working = await mount("gyle-working", { session, name: "mash.mash_ratio" });
  session.dispatch({ edit: "set-formula", cell: "mash.strike_water", formula: "850 L" });
  await drawn(working);
  expect(text(inside(working, ".gives"))).toBe("4 L/kg");
  session.setLens("US");
  await drawn(working);
  // 4 L/kg · 0.45359237 kg/lb ÷ 0.946352946 L/qt = 1.917 US qt/lb (NIST SP 811).
  expect(text(inside(working, ".gives"))).toBe("1.92 US qt/lb");
});

test("a note with markup in it is shown as text; an unknown line as nothing", async () => {
  const session = createSession(SMALL_BOOK.replace("eight full, one half", "<b onclick=alert(1)>eight</b>"));
  const working = await mount("gyle-working", { session, name: "mash.grain" });
  expect(text(inside(working, ".note"))).toBe("<b onclick=alert(1)>eight</b>");
  const none = await mount("gyle-working", { session, name: "mash.nowhere" });
  expect(text(none.shadowRoot?.firstElementChild)).toBe("");
});
