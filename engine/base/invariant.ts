/** States what only a programmer can break; nothing a person types may reach it. Throws an Error naming `what`. */
export function invariant(condition: unknown, what: string): asserts condition {
  if (!condition) throw new Error(`invariant broken: ${what}`);
}

/** For the end of an exhaustive switch. */
export function unreachable(value: never): never {
  throw new Error(`unreachable: ${JSON.stringify(value)}`);
}
