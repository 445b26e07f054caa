import { expect, test } from "vitest";
import { createSession, type LibraryFunction, preview } from "../../engine/index.ts";
import { argumentField, askingFor, callOf, finds, readArgument } from "./call.ts";

const strike: LibraryFunction = {
  name: "strike_temperature",
  stage: "mash",
  says: "Temperature of the strike water.",
  searchWords: ["liquor"],
  since: 1,
  arguments: [
    { name: "rest", says: "Wanted rest.", takes: { unit: "°C" } },
    { name: "method", says: "Which.", takes: { text: ["one", "two"] }, default: '"one"' },
    { name: "price", says: "What it costs.", takes: { money: "per", unit: "kg" } },
  ],
  result: { unit: "°C" },
  source: "common practice, no source",
  range: "",
  arithmetic: () => 0,
};
const [rest, method, price] = strike.arguments;

const book = createSession("gylebook 1\ngal means US gal\nunit sack = 25 kg\nsheet mash\nrest = 66 °C\nwarmer = 0.5\n");
const asking = askingFor(strike, book);
const faultOf = (formula: string): string | null =>
  preview(book.model, book.lens, { sheet: "mash", cell: null }, formula).faults[0]?.message ?? null;

const read = (argument: LibraryFunction["arguments"][number] | undefined, typed: string): string => {
  if (argument === undefined) throw new Error("no such argument");
  const { literal, reading, asks } = readArgument(asking, argument, typed, faultOf);
  const choices = reading?.choices?.map(({ value }) => value) ?? [];
  return [literal, ...(asks ? ["asks"] : []), reading?.says ?? "", ...choices].filter(Boolean).join(" | ");
};

test("what is typed is read as a field would read it, and asked where it may be two things", () => {
  expect(read(rest, "66,7")).toBe("66.7 °C | reads 66.7 °C");
  expect(read(rest, "152F")).toBe("152 °F | reads 152 °F (66.7 °C)");
  expect(read(rest, "−1")).toBe("-1 °C | reads -1 °C");
  expect(read(rest, "66")).toBe("66 °C");
  expect(read(rest, "rest + 3 Δ°C")).toBe("rest + 3 Δ°C");
  expect(read(rest, "66 °C")).toBe("66 °C");
  expect(read(rest, "1,250")).toBe(
    '1,250 | asks | "1,250" can be read in two ways. Which is meant? | 1250 °C | 1.250 °C',
  );
  expect(read(rest, "12 lb 4 oz")).toBe("12 lb 4 oz | 12 lb 4 oz is a mass; this takes a temperature (°C).");
  expect(read(rest, "15L")).toBe("15L | 15 L is a volume; this takes a temperature (°C).");
  expect(read(rest, "mash.rest")).toBe("mash.rest");
  expect(read(method, "two")).toBe('"two"');
  expect(read(price, "2.40 CAD/kg")).toBe("2.40 CAD/kg");
  expect(read(price, "2,40 CAD/kg")).toBe("2.40 CAD/kg | reads 2.40 CAD/kg");
  expect(price && argumentField(price)).toEqual({ unit: "per kg", choices: null });
});

test("what is neither a figure nor a line is told at its field", () => {
  expect(read(rest, "abc")).toBe('abc | "abc" is no figure. This takes a temperature (°C). There is no "abc" here.');
  expect(read(rest, "abc + 3 Δ°C")).toBe('abc + 3 Δ°C | There is no "abc" here.');
  expect(read(price, "abc")).toBe('abc | There is no "abc" here.');
});

test("a call names what was given and leaves defaults out", () => {
  expect(callOf(strike, new Map([["rest", "66 °C"]]))).toBe("strike_temperature(rest: 66 °C)");
});

test("a function is found by the words of the trade", () => {
  expect(finds(strike, "liq temp")).toBe(true);
  expect(finds(strike, "hops")).toBe(false);
});
