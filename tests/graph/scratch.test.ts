import { expect, test } from "vitest";
import { Scratch } from "../../engine/graph/scratch.ts";

test("marks are wiped before stamps run out of 31 bits, so that no old mark passes for a new one", () => {
  const scratch = new Scratch();
  scratch.reserveNodes(2);
  scratch.mark[0] = scratch.stamps(3);
  scratch.mark[1] = scratch.stamps(0x7fff_ff00);
  expect(scratch.stamps(3)).toBeGreaterThan(scratch.mark[1] as number);
  expect(scratch.mark[0]).toBe(1);
  const last = scratch.stamps(0x1000);
  expect(last + 0x1000).toBeLessThan(2 ** 31);
  expect([...scratch.mark]).toEqual([0, 0]);
});
