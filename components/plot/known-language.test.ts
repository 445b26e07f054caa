import { expect, test } from "vitest";

test("a plot is drawn where the system reports a language that is no language tag", async () => {
  Object.defineProperty(navigator, "language", { configurable: true, value: "en-US@posix" });
  expect(() => new Intl.NumberFormat(navigator.language)).toThrow(RangeError);
  const { draw } = await import("./drawing.ts");
  expect(draw).toBeTypeOf("function");
});
