import { describe, expect, test } from "vitest";
import { DEPTH_LIMIT, STEPS_LIMIT } from "../../engine/checker/work.ts";
import { createSession, type Session } from "../../engine/index.ts";
import { NESTING_LIMIT } from "../../engine/parser/token-list.ts";
import { POWER_LIMIT } from "../../engine/units/dimension.ts";

/*
 * What would take for ever, or fill the memory, were it not bounded. That a test ends is the check: without the bound
 * each of these takes minutes, or more memory than there is.
 */

const counted = (count: number): number[] => Array.from({ length: count }, (_, at) => at + 1);

const bookOf = (head: readonly string[], lines: readonly string[]): Session =>
  createSession(`gylebook 1\n${head.join("\n")}\nsheet s\n${lines.join("\n")}\n`);

/** f1 … fN, each made of the one before. */
const chainOf = (count: number, first: string, next: (before: string) => string): string[] => [
  `function f1(x) = ${first}`,
  ...counted(count - 1).map((at) => `function f${at + 1}(x) = ${next(`f${at}`)}`),
];

const saysOf = (session: Session, line: string): string =>
  session
    .problems()
    .faults.filter(({ name }) => name === line)
    .map(({ message }) => message)
    .join();

const TOO_MUCH = new RegExp(
  `more than ${STEPS_LIMIT.toLocaleString("en")} steps, or nests more than ${DEPTH_LIMIT} deep`,
);

describe("functions that call functions", () => {
  test.each([
    ["twice", (f: string) => `${f}(x) + ${f}(x)`],
    ["within one another", (f: string) => `${f}(${f}(x))`],
    ["in both branches", (f: string) => `if x > 1 then ${f}(x) else ${f}(x)`],
    ["with another kind each time", (f: string) => `${f}(x * 1 kg) / 1 kg + ${f}(x * 1 s) / 1 s`],
  ])("%s, a thousand of them, are refused where they are called, and the rest stands", (_, next) => {
    const session = bookOf(chainOf(1000, "x + x", next), ["small = f3(1)", "large = f1000(1)", "after = 2 * 3"]);
    expect(saysOf(session, "s.large")).toMatch(TOO_MUCH);
    expect(session.cell("s.after")?.shown).toBe("6");
    expect(session.cell("s.small")?.state).toBe("ready");
  });

  test("once each are followed as deep as the limit, and no deeper", () => {
    const session = bookOf(
      chainOf(2000, "x + 1", (f) => `${f}(x) + 1`),
      ["shallow = f100(0)", "deep = f2000(0)", ...counted(30).map((at) => `c${at} = f${at * 20}(0)`)],
    );
    expect(session.cell("s.shallow")?.shown).toBe("100");
    expect(saysOf(session, "s.deep")).toMatch(TOO_MUCH);
    expect(session.cell("s.c5")?.shown).toBe("100");
    expect(saysOf(session, "s.c30")).toMatch(TOO_MUCH);
  });

  test("from parentheses at the limit are not too deep for the call stack", () => {
    const deep = (inner: string): string =>
      `${"(1 + ".repeat(NESTING_LIMIT - 2)}${inner}${")".repeat(NESTING_LIMIT - 2)}`;
    const session = bookOf(
      chainOf(50, deep("x"), (f) => deep(`${f}(x)`)),
      ["a = f1(1)", "b = f3(1)", "c = f50(1)"],
    );
    expect([session.cell("s.a")?.state, session.cell("s.b")?.state]).toEqual(["ready", "ready"]);
    expect(saysOf(session, "s.c")).toMatch(TOO_MUCH);
  });

  test("call themselves by way of others are told as a circle", () => {
    const session = bookOf(["function f(x) = g(x)", "function g(x) = f(x)"], ["a = f(1)"]);
    expect(session.problems().faults[0]?.fault.code).toBe("circular");
  });

  test("in every line of a long book take no memory of their own for each", () => {
    const session = bookOf(
      chainOf(10, "x + x", (f) => `${f}(x) + ${f}(x)`),
      counted(2000).map((at) => `c${at} = f10(${at})`),
    );
    expect(session.cell("s.c2000")?.shown).toBe(String(2000 * 1024));
  });
});

describe("figures and units that grow", () => {
  test("10^308 squared has no value and says so; what needs it names it", () => {
    const session = bookOf([], ["a = 10^308", "b = a * a", "c = a ^ 2", "d = 1e308 kg * 10", "e = b + 1"]);
    for (const line of ["s.b", "s.c", "s.d"]) expect(saysOf(session, line)).toBe("The result is too large to be held.");
    expect(session.cell("s.e")?.because).toBe("s.b");
  });

  test("a figure too large for its unit is refused as it is typed", () => {
    expect(saysOf(bookOf([], ["a = 1e308 t^2"]), "s.a")).toMatch(/too large to be held/);
  });

  test("units squared a thousand times, and roots of roots, end at the limit of powers", () => {
    const lines = (next: string): string[] => [
      "x0 = 1 kg",
      ...counted(1000).map((at) => `x${at} = ${next.replaceAll("x", `x${at - 1}`)}`),
    ];
    const squares = bookOf([], lines("x * x"));
    expect(squares.cell("s.x4")?.kindName).toBe("mass^16");
    expect(saysOf(squares, "s.x5")).toBe(`A unit has a power of at most ${POWER_LIMIT}.`);
    const roots = bookOf([], lines("x ^ 0.5"));
    expect(roots.cell("s.x4")?.state).toBe("ready");
    expect(saysOf(roots, "s.x5")).toBe(`A unit has a power of at most ${POWER_LIMIT}.`);
    expect(squares.cell("s.x1000")?.because).toBe("s.x5");
  });

  test("a unit of many roots is refused", () => {
    const roots = counted(11).map((at) => `m^(1/${at + 1})`);
    expect(
      bookOf([], [`a = 5 ${roots.join("·")}`, "b = 5 m^(1/97)·m^(1/89)·m^(1/83)·m^(1/79)"]).cell("s.a")?.state,
    ).toBe("faulty");
  });
});

describe("tables times tables", () => {
  const ROWS = 20_000;
  const rows = counted(ROWS).map((at) => `    ${(at * 7919) % 20_011}, ${at * 2}, item ${at}`);
  const worked = (formula: string): Session =>
    createSession(
      `gylebook 1\nsheet s\ntable big\n  column key : number\n  column held : number\n  column item : text\n  column found = ${formula}\n  rows\n${rows.join("\n")}\n  end\n`,
    );
  const foundBy = (formula: string): ArrayLike<unknown> => {
    const column = worked(formula)
      .table("s.big")
      ?.columns.find(({ name }) => name === "found");
    return (column?.value ?? []) as ArrayLike<unknown>;
  };

  test("every row looked up by its key in every row", () => {
    expect(foundBy("matching(big.key, big.held, big.key)")[19_999]).toBe(40_000);
    expect(foundBy('matching(big.item, big.held, "ITEM 77")')[3]).toBe(154);
    expect(foundBy("matching(big.item, big.held, big.item)")[7]).toBe(16);
    expect(foundBy("matching_nearest(big.key, big.held, big.key + 0.3)")[19_999]).toBe(40_000);
  });

  test("a choice of three hundred branches in every row", () => {
    const branches = counted(300).map((at) => `if key is ${at} then ${at * 3}`);
    const found = foundBy(`${branches.join(" else ")} else -1`);
    const last = (ROWS * 7919) % 20_011;
    expect([found[0], found[19_999]]).toEqual([-1, last <= 300 ? last * 3 : -1]);
  });
});

describe("choices of many branches", () => {
  test("call the library in each row for the branch that it takes, and for no other", () => {
    const rows = counted(20_000).map((at) => `    ${at % 301}, ${at % 20}`);
    const branches = counted(300).map(
      (at) => `if key is ${at} then carbonation(pressure: ${at / 100} bar, temp: warm)`,
    );
    const session = createSession(
      `gylebook 1\nsheet s\ntable big\n  column key : number\n  column warm : °C\n  column found = ${branches.join(" else ")} else 0 vol\n  rows\n${rows.join("\n")}\n  end\n`,
    );
    const found = session.table("s.big")?.columns.find(({ name }) => name === "found")?.value as ArrayLike<number>;
    expect([found.length, found[300]]).toEqual([20_000, 0]);
    expect(found[299]).toBeGreaterThan(found[99] as number);
  });
});

describe("circles", () => {
  test("of twenty thousand lines are told by all of them, in a few words each", () => {
    const count = 20_000;
    const session = bookOf(
      [],
      counted(count).map((at) => `x${at} = x${(at % count) + 1} + 1`),
    );
    const { faults } = session.problems();
    expect(faults).toHaveLength(count);
    expect(Math.max(...faults.map(({ message }) => message.length))).toBeLessThan(150);
  });

  test("of every line with every other are told", () => {
    const names = counted(150).map((at) => `x${at}`);
    const session = bookOf(
      [],
      names.map((name) => `${name} = ${names.join(" + ")}`),
    );
    expect(session.problems().faults).toHaveLength(150);
  });

  test("that cross in thousands of lines are told by one of them", () => {
    const count = 10_000;
    const others = [7, 1_009, 9_973];
    const session = bookOf(
      [],
      counted(count).map((at) => `x${at} = ${others.map((by) => `x${((at * by) % count) + 1}`).join(" + ")}`),
    );
    const { faults } = session.problems();
    expect(faults).toHaveLength(count);
    const circles = new Set(faults.map(({ message }) => message.slice(0, message.indexOf(": each needs"))));
    expect(circles.size).toBe(1);
    expect(saysOf(session, "s.x9999")).toMatch(/ each needs the other\. s\.x9999 needs them, and they need it\.$/);
  });
});

describe("keys that are nearly the same", () => {
  test("readings a second apart are told apart", () => {
    const session = createSession(
      "gylebook 1\nsheet s\ntable log\n  column at : instant\n  column temp : °C\n  rows\n    2026-03-02T08:00:00, 10\n    2026-03-02T08:00:01, 20\n  end\nfound = matching(log.at, log.temp, 2026-03-02T08:00:01)\n",
    );
    expect(session.cell("s.found")?.shown).toBe("20 °C");
  });

  test("figures that count as equal match", () => {
    const session = createSession(
      "gylebook 1\nsheet s\ntable t1\n  column dip : inch\n  column holds : L\n  rows\n    0.3, 10\n    0.1, 20\n  end\nfound = matching(t1.dip, t1.holds, 0.1 inch + 0.2 inch)\nnone = matching(t1.dip, t1.holds, 0.2 inch)\n",
    );
    expect([session.cell("s.found")?.shown, session.cell("s.none")?.state]).toEqual(["10 L", "faulty"]);
  });
});
