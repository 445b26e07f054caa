import type { Workbook } from "./document.ts";
import { itemAt, type Patch, patched, type Version } from "./version.ts";

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

  /** Notes the version that a step left behind, by the patch of the step where it was one; what was undone before it is given up. */
  push(before: Workbook, patch: Patch | null, label: string): void {
    this.#back.push(stepTo(before, patch, label));
    if (this.#back.length > MOST_STEPS) this.#back.shift();
    this.#forth.length = 0;
  }

  back(current: Workbook): Version | null {
    return exchange(this.#back, this.#forth, current);
  }

  forth(current: Workbook): Version | null {
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

/** The step that leads back to `before`, of which `patch` made another version. */
function stepTo(before: Workbook, patch: Patch | null, label: string): Step {
  const item = patch === null ? null : itemAt(before, patch);
  return { version: patch === null || item === null ? before : { ...patch, item }, label };
}

function exchange(from: Step[], to: Step[], current: Workbook): Version | null {
  const step = from.pop();
  if (step === undefined) return null;
  const { version } = step;
  const next = "sheets" in version ? { workbook: version, patch: null } : patched(current, version);
  to.push(stepTo(current, next.patch, step.label));
  return next;
}
