import type { Workbook } from "./document.ts";

interface Step {
  readonly workbook: Workbook;
  readonly label: string;
}

/** Steps that are kept; versions share what they have in common, so a step costs little more than what it changed. */
const MOST_STEPS = 10_000;

/** The versions before and after the current one. A version is a whole document that shares its unchanged parts. */
export class History {
  readonly #back: Step[] = [];
  readonly #forth: Step[] = [];

  /** Notes the version that a step left behind; what was undone before it is given up. */
  push(workbook: Workbook, label: string): void {
    this.#back.push({ workbook, label });
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

function exchange(from: Step[], to: Step[], current: Workbook): Workbook | null {
  const step = from.pop();
  if (step === undefined) return null;
  to.push({ workbook: current, label: step.label });
  return step.workbook;
}
