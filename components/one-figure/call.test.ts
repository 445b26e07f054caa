import { expect, test } from "vitest";
import type { LibraryFunction } from "../../engine/index.ts";
import { argumentField, callOf, finds, literalOf } from "./call.ts";

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

test("a bare figure takes the field's unit, and shorthand is mended", () => {
  if (rest === undefined || method === undefined || price === undefined) throw new Error("three arguments");
  expect(literalOf(rest, "66,7")).toBe("66.7 °C");
  expect(literalOf(rest, "152F")).toBe("152 °F");
  expect(literalOf(rest, "−1")).toBe("-1 °C");
  expect(literalOf(rest, "mash.rest")).toBe("mash.rest");
  expect(literalOf(method, "two")).toBe('"two"');
  expect(literalOf(price, "2.40 CAD/kg")).toBe("2.40 CAD/kg");
  expect(argumentField(price)).toEqual({ unit: "per kg", choices: null });
});

test("a call names what was given and leaves defaults out", () => {
  expect(callOf(strike, { rest: "66", method: " " })).toBe("strike_temperature(rest: 66 °C)");
});

test("a function is found by the words of the trade", () => {
  expect(finds(strike, "liq temp")).toBe(true);
  expect(finds(strike, "hops")).toBe(false);
});
