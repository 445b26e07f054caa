import { describe, expect, test } from "vitest";
import { holds, moveBy, stretchOf } from "./grid.ts";

const press = (key: string, ctrlKey = false) => ({ key, ctrlKey, metaKey: false });

describe("moving in a table of 100 rows and 4 columns", () => {
  test.each([
    ["ArrowDown", false, { row: 6, column: 2 }],
    ["ArrowUp", false, { row: 4, column: 2 }],
    ["ArrowRight", false, { row: 5, column: 3 }],
    ["ArrowLeft", false, { row: 5, column: 1 }],
    ["ArrowDown", true, { row: 99, column: 2 }],
    ["Home", false, { row: 5, column: 0 }],
    ["End", true, { row: 99, column: 3 }],
    ["PageDown", false, { row: 15, column: 2 }],
    ["PageUp", false, { row: 0, column: 2 }],
  ] as const)("%s (with Ctrl: %s) leads to the right entry", (key, ctrl, to) => {
    expect(moveBy(press(key, ctrl), { row: 5, column: 2 }, 100, 4)).toEqual(to);
  });

  test("stops at the edges", () => {
    expect(moveBy(press("ArrowUp"), { row: 0, column: 0 }, 100, 4)).toEqual({ row: 0, column: 0 });
    expect(moveBy(press("ArrowRight"), { row: 0, column: 3 }, 100, 4)).toEqual({ row: 0, column: 3 });
  });

  test("leaves other keys alone", () => {
    expect(moveBy(press("a"), { row: 0, column: 0 }, 100, 4)).toBeNull();
  });
});

test("a stretch holds what lies between its ends, whichever came first", () => {
  const stretch = stretchOf({ row: 7, column: 3 }, { row: 2, column: 1 });
  expect(holds(stretch, 2, 3)).toBe(true);
  expect(holds(stretch, 8, 2)).toBe(false);
  expect(holds(stretch, 5, 0)).toBe(false);
});
