import { isFault, type Operand, type Ruled } from "../operations/operand.ts";
import { printUnit } from "../units/compound.ts";
import type { ShownUnit } from "../units/unit.ts";
import { sameKind, type Type } from "../values/kind.ts";

/**
 * The types of one workbook. Equal ones are one object: they are few, comparing them is then comparing references, and
 * what two of them give under an operator is worked out once.
 */
export class Types {
  readonly #byText = new Map<string, Type>();
  /** Types of single values by their unit, for units that are known as they are. */
  readonly #byUnit = new WeakMap<ShownUnit, Type[]>();
  readonly #combined = {
    "+": new WeakMap<Type, WeakMap<Type, Type>>(),
    "-": new WeakMap<Type, WeakMap<Type, Type>>(),
    "*": new WeakMap<Type, WeakMap<Type, Type>>(),
    "/": new WeakMap<Type, WeakMap<Type, Type>>(),
  };

  /** The one object that stands for all types equal to this. */
  of(type: Type): Type {
    const { kind, unit, rows } = type;
    const alike = unit === null || rows !== null ? undefined : this.#byUnit.get(unit);
    if (alike !== undefined) for (const one of alike) if (sameKind(one.kind, kind)) return one;
    const text = `${kind.is}|${kind.is === "quantity" ? kind.dimension.key : kind.is === "reading" ? kind.family : ""}|${unit === null ? "" : printUnit(unit)}|${rows ?? ""}`;
    const known = this.#byText.get(text);
    if (known !== undefined) return known;
    this.#byText.set(text, type);
    if (unit !== null && rows === null) this.#byUnit.set(unit, [...(alike ?? []), type]);
    return type;
  }

  /** What `rule` says of two operands. It looks at nothing but their types, unless one is a written 0; faults are told anew. */
  combined(operator: "+" | "-" | "*" | "/", left: Operand, right: Operand, rule: () => Ruled): Ruled {
    if (left.zero || right.zero) return rule();
    const known = this.#combined[operator].get(left.type)?.get(right.type);
    if (known !== undefined) return known;
    const ruled = rule();
    if (isFault(ruled)) return ruled;
    const type = this.of(ruled);
    const withLeft = this.#combined[operator].get(left.type) ?? new WeakMap<Type, Type>();
    withLeft.set(right.type, type);
    this.#combined[operator].set(left.type, withLeft);
    return type;
  }
}
