import { invariant } from "../../engine/base/invariant.ts";
import { type Given, isNoValue, type LibraryFunction } from "../../engine/library/declaration.ts";
import type { Value } from "../../engine/values/value.ts";

/**
 * Calls a declaration's arithmetic without the engine: coherent values in and out, every declared argument given and no other.
 * The answer is the number or text, or the sentence why there is none.
 */
export function callDirect(
  functions: readonly LibraryFunction[],
  name: string,
  given: Record<string, Value>,
): number | string {
  const found = functions.find((of) => of.name === name);
  invariant(found, `there is no function ${name}`);
  const declared = found.arguments.map((argument) => argument.name).sort();
  invariant(
    JSON.stringify(declared) === JSON.stringify(Object.keys(given).sort()),
    `${name} takes ${declared.join(", ")}`,
  );
  const result = found.arithmetic(onlyDeclared(given));
  return isNoValue(result) ? result.noValue : result;
}

/** The same values, but reading a name that is not among them throws: a misspelled name cannot hide. */
export const onlyDeclared = (given: Record<string, Value>): Given =>
  new Proxy(given, {
    get(values, name) {
      invariant(typeof name === "string" && name in values, `${String(name)} is not declared`);
      return values[name];
    },
  });
