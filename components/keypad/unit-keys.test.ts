import { describe, expect, test } from "vitest";
import { pressKey, unitKeys } from "./unit-keys.ts";

const typed = (...keys: string[]): string => keys.reduce(pressKey, "");

describe("the keypad", () => {
  test("types what a device's number pad cannot", () => {
    expect(typed("1", "5", "2", "°F")).toBe("152 °F");
    expect(typed("1", "2", "lb", "4", "oz")).toBe("12 lb 4 oz");
    expect(typed("-", "1", ".", "2")).toBe("-1.2");
    expect(typed("2", "0", "2", "6", "-", "0", "3", "-", "0", "1", " ", "0", "8", ":", "1", "5")).toBe(
      "2026-03-01 08:15",
    );
  });

  test("types fractions where a unit is read in them", () => {
    expect(typed("3", "6", " ", "1", "/", "8")).toBe("36 1/8");
    expect(typed("3", "6", " ", "1", "/", "8", "inch")).toBe("36 1/8 inch");
    expect(typed("1", "2", "lb", "4", " ", "1", "/", "2", "oz")).toBe("12 lb 4 1/2 oz");
    expect(unitKeys("inch")).toEqual(["inch", "cm", " ", "/"]);
    expect(unitKeys("lb")).toEqual(["lb", "oz", " ", "/"]);
    expect(unitKeys("oz")).toEqual(["oz", "lb", " ", "/"]);
    expect(unitKeys("US gal")).toEqual(["US gal", "L", " ", "/"]);
    expect(unitKeys("UK bbl")).toEqual(["UK bbl", "imp gal", " ", "/"]);
    expect(unitKeys("ft")).toEqual(["ft", "", " ", "/"]);
    expect(typed("3", "6", " ", "erase")).toBe("36");
    expect(typed("3", "6", " ", "1", "/", "8", "erase", "erase")).toBe("36 1");
  });

  test("erases one sign, or a whole unit", () => {
    expect(typed("6", "6", ".", "erase")).toBe("66");
    expect(typed("1", "2", "lb", "erase")).toBe("12");
    expect(typed("5", "US gal", "erase")).toBe("5");
    expect(typed("erase")).toBe("");
  });

  test("puts the field's own unit first", () => {
    expect(unitKeys("°F")).toEqual(["°F", "°C"]);
    expect(unitKeys("kg")).toEqual(["kg", "lb", "oz"]);
    expect(unitKeys("sack")).toEqual(["sack"]);
    expect(unitKeys("")).toEqual([]);
  });
});
