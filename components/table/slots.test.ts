import { describe, expect, test } from "vitest";
import { type Slot, Slots } from "./slots.ts";

const rows = (first: number, last: number): number[] => Array.from({ length: last - first + 1 }, (_, at) => first + at);
const arranged = (slots: Slots, drawn: readonly number[], inHand: number): readonly Slot[] => {
  const found = slots.arrange(drawn, inHand);
  expect(found.flatMap(({ row }) => row ?? [])).toEqual(drawn);
  expect(new Set(found.map(({ key }) => key)).size).toBe(found.length);
  return found;
};
const keysOf = (slots: readonly Slot[]): number[] => slots.map(({ key }) => key);

describe("the elements of drawn rows", () => {
  test("stay with their rows while few come and go", () => {
    const slots = new Slots();
    const before = keysOf(arranged(slots, rows(0, 9), 0));
    const after = keysOf(arranged(slots, [0, ...rows(3, 11)], 0));
    expect(after.slice(0, 8)).toEqual([before[0], ...before.slice(3)]);
  });

  test("are filled anew in their order after a jump", () => {
    const slots = new Slots();
    const before = keysOf(arranged(slots, rows(0, 9), 0));
    expect(keysOf(arranged(slots, [0, ...rows(500, 508)], 0))).toEqual(before);
    expect(keysOf(arranged(slots, [0, ...rows(300, 308)], 0))).toEqual(before);
  });

  test("keep their order about the row in hand, on whichever side of it the table is scrolled", () => {
    const slots = new Slots();
    let before = arranged(slots, rows(100, 109), 104);
    const hand = before[4]?.key;
    for (const drawn of [[...rows(10, 18), 104], [104, ...rows(500, 508)], rows(101, 110), [...rows(10, 18), 104]]) {
      const after = arranged(slots, drawn, 104);
      expect(after.find(({ row }) => row === 104)?.key).toBe(hand);
      const kept = keysOf(after).filter((key) => keysOf(before).includes(key));
      expect(kept).toEqual(keysOf(before).filter((key) => kept.includes(key)));
      before = after;
    }
  });

  test("are given up where they are not wanted once another row is in hand", () => {
    const slots = new Slots();
    arranged(slots, rows(100, 109), 104);
    expect(arranged(slots, [...rows(10, 14), 104], 104).length).toBeGreaterThan(6);
    expect(arranged(slots, rows(10, 14), 12)).toHaveLength(5);
  });
});
