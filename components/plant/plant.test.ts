import { expect, test } from "vitest";
import { createSession, type Lens, type Session } from "../../engine/index.ts";
import { barriers, drawn, inside, type } from "../../tests/support/mount.ts";
import type { GyleForm } from "../form/form.ts";
import { setUpPlant } from "./plant.ts";

const BOOK = `gylebook 1
library 1
unit sack = 55 lb # bags from the south

sheet plant "Our plant"
altitude "Altitude of the brewery" = 310 m
evaporation "Boils off in an hour" = 7.5 % # share of the full kettle
tun_heat "Heat of the tun" = 190 kg * 0.5 kJ/kg/K
kettle_loss "Stays in the kettle" = ? 36 L within 10 to 60 L # trub and hops
gauge "Pressure gauge" = "psi" within "bar", "psi", "kPa"
`;

/** Opens the dialog on a book, changes some fields, and keeps; gives the form while it is open, and what is said of it. */
const answered = async (session: Session, answers: Readonly<Record<string, string>>): Promise<GyleForm | null> => {
  const done = setUpPlant(document.body, session);
  const form = document.querySelector("gyle-form");
  if (form === null) throw new Error("no form was opened");
  await drawn(form);
  for (const [name, typed] of Object.entries(answers)) await type(inside<HTMLInputElement>(form, `#${name}`), typed);
  inside(form, ".firm").click();
  await drawn(form);
  const open = document.querySelector("gyle-form");
  if (open === null) await done;
  return open;
};

const formula = (session: Session, name: string): string | undefined => session.cell(`plant.${name}`)?.formula;
const sack = (session: Session): string | undefined => /^unit sack = .*$/m.exec(session.text())?.[0];

const opened = async (lens: Lens = "as-written"): Promise<GyleForm> => {
  void setUpPlant(document.body, createSession(BOOK, { lens }));
  const form = document.querySelector("gyle-form");
  if (form === null) throw new Error("no form was opened");
  await drawn(form);
  return form;
};

const shown = (form: GyleForm, name: string): string => inside<HTMLInputElement>(form, `#${name}`).value;
const leave = (form: GyleForm): void => inside(form, ".leave").click();

test("meets no barrier", async () => {
  const form = await opened();
  expect(await barriers(form)).toEqual([]);
  leave(form);
});

test("shows what the book has, the sack too", async () => {
  const form = await opened();
  expect(["altitude", "kettle_loss", "sack", "gauge", "dead_space"].map((name) => shown(form, name))).toEqual([
    "310 m",
    "36 L",
    "55 lb",
    "psi",
    "",
  ]);
  leave(form);
});

test("asks in the units of the reader's lens, and what is written stays as it is", async () => {
  const form = await opened("US");
  const label = inside(form, 'label[for="altitude"]').textContent;
  expect([label, shown(form, "altitude")]).toEqual(["Altitude of the brewery (ft)", "310 m"]);
  leave(form);
});

test("kept as it stands, it changes nothing but what was missing, which is marked", async () => {
  const session = createSession(BOOK);
  expect(await answered(session, {})).toBeNull();
  for (const line of BOOK.trim().split("\n")) expect(session.text()).toContain(line);
  expect(formula(session, "dead_space")).toBe("20 L # not known: the usual figure");
  expect(formula(session, "hydrometer")).toBe('"°P"');
});

test("an emptied field is the usual figure from then on, marked, and empty when it is opened again", async () => {
  const session = createSession(BOOK);
  await answered(session, { altitude: "", kettle_loss: "", sack: "" });
  expect(formula(session, "altitude")).toBe("0 m # not known: the usual figure");
  expect(formula(session, "kettle_loss")).toBe("? 40 L within 10 to 60 L # not known: the usual figure");
  expect(sack(session)).toBe("unit sack = 25 kg # not known: the usual figure");
  expect(session.problems().fileFaults).toEqual([]);
  const now = session.text();
  await answered(session, {});
  expect(session.text()).toBe(now);
  // Known after all: the mark goes.
  await answered(session, { altitude: "320", sack: "20" });
  expect([formula(session, "altitude"), sack(session)]).toEqual(["320 m", "unit sack = 20 kg"]);
});

test("a figure that is changed keeps the line's note, range and mark, and all is one step to undo", async () => {
  const session = createSession(BOOK);
  await answered(session, { evaporation: "8", kettle_loss: "10 US gal" });
  expect(formula(session, "evaporation")).toBe("8 % # share of the full kettle");
  expect(formula(session, "kettle_loss")).toBe("? 10 US gal within 10 to 60 L # trub and hops");
  session.undo();
  expect(session.text()).toBe(BOOK);
});

test("what the book works out stays so while its field is empty", async () => {
  const session = createSession(BOOK);
  await answered(session, { altitude: "300" });
  expect(formula(session, "tun_heat")).toBe("190 kg * 0.5 kJ/kg/K");
});

test("every answer that cannot be read is told at its field, a question with its choices, and nothing is kept", async () => {
  const session = createSession(BOOK);
  const form = await answered(session, { kettle_loss: "1,250", altitude: "high", dead_space: "152F" });
  if (form === null) throw new Error("the form was closed");
  expect(inside(form, "#altitude-refused").textContent).toContain('"high" is no figure.');
  expect(inside(form, "#kettle_loss-refused").textContent).toContain("Which is meant?");
  expect(inside(form, "#dead_space-refused").textContent).toContain(
    "152 °F is a temperature; this takes a volume (L).",
  );
  expect([...(form.shadowRoot?.querySelectorAll("[aria-invalid]") ?? [])].map(({ id }) => id)).toEqual([
    "altitude",
    "kettle_loss",
    "dead_space",
  ]);
  expect(form.shadowRoot?.activeElement?.id).toBe("altitude");
  expect(session.canUndo).toBe(false);
  await type(inside<HTMLInputElement>(form, "#dead_space"), "15");
  await type(inside<HTMLInputElement>(form, "#altitude"), "300ft");
  expect(inside(form, "#altitude-reads").textContent).toBe("reads 300 ft (91.44 m)");
  inside(form, ".offered button").click();
  await drawn(form);
  expect(shown(form, "kettle_loss")).toBe("1250 L");
  inside(form, ".firm").click();
  await drawn(form);
  expect(document.querySelector("gyle-form")).toBeNull();
  expect(formula(session, "kettle_loss")).toBe("? 1250 L within 10 to 60 L # trub and hops");
});
