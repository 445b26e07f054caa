import type { Value } from "../values/value.ts";

/** What a node of the graph holds when it is asked. */
export type Held =
  | { readonly is: "value"; readonly value: Value }
  /** A blank that is not filled, or what waits for one; or what is faulty. */
  | { readonly is: "waiting" | "faulty" };

/** Where evaluation reads what other lines hold. */
export interface Memory {
  read(node: number): Held;
  /**
   * The measured columns without an entry yet that leave the column of a node without one: itself, or those that it is
   * worked from. None where its table has entries that gave it none.
   */
  unfilled(node: number): readonly number[];
  /** Columns of the logs from which the column of a node has its entries: these tables grow as the gyle goes on. */
  logs(node: number): readonly number[];
}
