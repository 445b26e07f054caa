import { describe, expect, test } from "vitest";
import { complete, createSession, itemsOf, type Sheet, working } from "../../engine/index.ts";

/** Names that every object of the implementation's language has. */
const INHERITED = ["__proto__", "constructor", "toString", "hasOwnProperty", "valueOf", "prototype", "isPrototypeOf"];

describe("names that objects of the implementation have by themselves", () => {
  // A name starts with a letter, so `__proto__` is none; the rest are names like any other.
  const names = INHERITED.filter((name) => !name.startsWith("_"));

  test.each(names)("%s is a cell, a table, a column, a sheet, a unit, a function and an argument", (name) => {
    const session = createSession(
      [
        "gylebook 1",
        `unit ${name} = 25 kg`,
        `function f${name}(${name}, other) = ${name} + other`,
        `function ${name}er(x) = x * 2`,
        `sheet ${name}x`,
        `a = 2 ${name}`,
        `sum = f${name}(${name}: a, other: 1 kg) as kg`,
        `twice = ${name}er(3 kg)`,
        `sheet ${name}`,
        `${name}_1 = 5 kg`,
        `table ${name}_2`,
        `  column ${name}_3 : kg`,
        `  column worked = ${name}_3 * 2`,
        "  rows",
        "    1",
        "    2",
        "  end",
        `total = sum(${name}_2.${name}_3) + ${name}_1`,
        `last_one = last(${name}.${name}_2.worked)`,
      ].join("\n"),
    );
    expect(session.problems()).toEqual({ faults: [], blanks: [], fileFaults: [] });
    const shown = (line: string): string | undefined => session.cell(line)?.shown;
    expect([shown(`${name}x.sum`), shown(`${name}x.twice`)]).toEqual(["51 kg", "6 kg"]);
    expect([shown(`${name}.total`), shown(`${name}.last_one`)]).toEqual(["8 kg", "4 kg"]);
  });

  test.each(names)("%s as the bare name of a line, a table, a column and a function", (name) => {
    const session = createSession(
      `gylebook 1\nfunction ${name}(x) = x + 1\nsheet s\n${name} = 4\ncalled = ${name}(${name})\ntable t1\n  column ${name} : kg\n  rows\n    3\n  end\nlast_one = last(t1.${name})\n`,
    );
    expect(session.problems().faults).toEqual([]);
    expect([session.cell("s.called")?.shown, session.cell("s.last_one")?.shown]).toEqual(["5", "3 kg"]);
  });

  test.each(INHERITED)("%s that is nowhere is an unknown name, function, unit, argument and line", (name) => {
    const session = createSession(
      `gylebook 1\nfunction f(x) = x\nsheet s\na = ${name}\nb = ${name}(1)\nc = 5 ${name}\nd = f(${name}: 1)\ne = s.${name}\nf = mean(${name}: 2)\n`,
    );
    for (const line of ["a", "b", "c", "d", "e", "f"]) expect(session.cell(`s.${line}`)?.state, line).toBe("faulty");
    for (const look of [name, `s.${name}`, `${name}.${name}`]) {
      expect([session.cell(look), session.table(look), working(session.model, session.lens, look)]).toEqual([
        null,
        null,
        null,
      ]);
      expect(session.dependants(look)).toEqual([]);
      expect(session.entry(look, 0, name).missing).toBe(true);
      expect(session.understand(look, "1")).toMatchObject({ ok: false });
      expect(session.dispatch({ edit: "set-formula", cell: look, formula: "1" })).toMatchObject({ ok: false });
    }
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });
});

describe("names that look like others", () => {
  const faultOf = (name: string): string =>
    createSession(`gylebook 1\nsheet s\ngrain = 1 kg\n${name} = 2 kg\n`)
      .problems()
      .faults.map(({ message }) => message)
      .concat(
        createSession(`gylebook 1\nsheet s\n${name} = 2 kg\n`)
          .problems()
          .fileFaults.map(({ message }) => message),
      )
      .join();

  test.each([
    ["a Cyrillic letter among Latin ones", "gr\u0430in"],
    ["a Greek letter in the shape of a Latin one", "gr\u03bfin"],
    ["a letter that cannot be seen", "gra\u3164in"],
    ["a selector that cannot be seen", "grain\ufe0f"],
    ["a joiner that cannot be seen", "grain\u034f"],
  ])("%s is refused", (_, name) => {
    expect(faultOf(name)).toMatch(/mixes Latin letters|cannot be seen/);
  });

  test.each([["\u202e"], ["\u2066"], ["\u200b"], ["\u200d"], ["\ufeff"]])("a name with %j is refused", (control) => {
    expect(faultOf(`gr${control}ain`)).not.toBe("");
  });

  test.each([["größe"], ["зерно"], ["объём_L"], ["Δt"], ["α_acid"], ["β2"], ["麦芽"], ["חיטה"], ["e\u0301xtrait"]])(
    "%s is a name",
    (name) => {
      expect(faultOf(name)).toBe("");
    },
  );
});

describe("characters that turn the order of a text", () => {
  test("are kept in the file and written out where they are shown", () => {
    const text = 'gylebook 1\nsheet s\na "Mass\u202e gk" = "one\u2066two" # half\u202d full\n';
    const session = createSession(text);
    expect(session.text()).toBe(text);
    const { label, shown, note } = session.cell("s.a") ?? {};
    expect([label, shown, note]).toEqual(["Mass⟨U+202E⟩ gk", "one⟨U+2066⟩two", "half⟨U+202D⟩ full"]);
  });

  test("are written out in the title, and in labels of sheets, tables and plots, headings and prose too", () => {
    const text = `gylebook 1
title "A\u202eb"
sheet s "B\u202dc"
> prose\u2067 turned
section "C\u2068d"
table t1 "D\u202ae"
  column x "E\u202bf" : kg
  rows
  end
plot "F\u2069g"
  line t1.x
`;
    const session = createSession(text);
    expect(session.text()).toBe(text);
    const [sheet] = session.workbook.sheets;
    const shown = [...itemsOf(sheet as Sheet)].map((item) =>
      item.is === "prose" ? item.text : "label" in item ? item.label : "",
    );
    expect([session.title, sheet?.label, ...shown]).toEqual([
      "A⟨U+202E⟩b",
      "B⟨U+202D⟩c",
      "prose⟨U+2067⟩ turned",
      "C⟨U+2068⟩d",
      "D⟨U+202A⟩e",
      "F⟨U+2069⟩g",
    ]);
    expect(session.table("s.t1")?.columns[0]?.label).toBe("E⟨U+202B⟩f");
    // An edit elsewhere leaves them in the file.
    session.dispatch({ edit: "add-cell", sheet: "s", at: null, name: "a", label: null, formula: "1 kg" });
    expect(session.text()).toBe(`${text}a = 1 kg\n`);
  });

  test("are written out where other lines and columns are offered or drawn on", () => {
    const session = createSession(
      'gylebook 1\nsheet s\na "Mass\u202e gk" = 1 kg\nb = a * 2\ntable t1\n  column x "E\u202bf" : kg\n  rows\n  end\n',
    );
    expect(working(session.model, session.lens, "s.b")?.drawsOn[0]?.label).toBe("Mass⟨U+202E⟩ gk");
    const offered = complete(session.model, { sheet: "s", cell: null }, "", 0).options.map(({ detail }) => detail);
    expect(offered).toEqual(expect.arrayContaining(["Mass⟨U+202E⟩ gk, mass", "E⟨U+202B⟩f, mass"]));
  });

  test("in a formula are a fault where they stand, and written out in its working", () => {
    const cell = createSession("gylebook 1\nsheet s\na = 1 kg \u202e + 2 kg\n").cell("s.a");
    expect(cell?.state).toBe("faulty");
    expect(cell?.faults[0]?.span.start).toBe(5);
    const session = createSession("gylebook 1\nsheet s\na = 1 kg \u202e + 2 kg\n");
    expect(working(session.model, session.lens, "s.a")?.formula).toBe("1 kg ⟨U+202E⟩ + 2 kg");
  });
});
