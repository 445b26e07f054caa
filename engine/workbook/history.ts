import { type Patch, patchBetween, patched } from "./difference.ts";
import type { Workbook } from "./document.ts";

/** How another version is had from the one beside it: by one item, or, where more changed, it is kept whole. */
interface Step {
  readonly version: Workbook | Patch;
  readonly label: string;
}

/** Steps that are kept: each costs a few hundred bytes, or, kept whole, the pages that it does not share. */
const MOST_STEPS = 10_000;

/** The versions before and after the current one. */
export class History {
  readonly #back: Step[] = [];
  readonly #forth: Step[] = [];

  /** Notes the version that a step to `current` left behind; what was undone before it is given up. */
  push(before: Workbook, current: Workbook, label: string): void {
    this.#back.push(stepFrom(current, before, label));
    if (this.#back.length > MOST_STEPS) this.#back.shift();
    this.#forth.length = 0;
  }

  back(current: Workbook): Workbook | null {
    return exchange(this.#back, this.#forth, current);
  }

  forth(current: Workbook): Workbook | null {
    return exchange(this.#forth, this.#back, current);
  }

  get canGoBack(): boolean {
    return this.#back.length > 0;
  }

  get canGoForth(): boolean {
    return this.#forth.length > 0;
  }

  get backLabel(): string | null {
    return this.#back.at(-1)?.label ?? null;
  }

  get forthLabel(): string | null {
    return this.#forth.at(-1)?.label ?? null;
  }
}

const stepFrom = (current: Workbook, other: Workbook, label: string): Step => ({
  version: patchBetween(current, other) ?? other,
  label,
});

function exchange(from: Step[], to: Step[], current: Workbook): Workbook | null {
  const step = from.pop();
  if (step === undefined) return null;
  const { version } = step;
  const other = "sheets" in version ? version : patched(current, version);
  to.push(stepFrom(other, current, step.label));
  return other;
}
