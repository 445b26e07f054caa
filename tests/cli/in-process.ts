import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect } from "vitest";
import { run } from "../../engine/cli/program.ts";

export interface Called {
  readonly status: number;
  readonly out: string;
  readonly error: string;
}

/** The command line within this process: what a call writes and its exit status. */
export async function call(...parameters: readonly string[]): Promise<Called> {
  let [out, error] = ["", ""];
  const status = await run(parameters, {
    out: (text) => {
      out += text;
    },
    error: (text) => {
      error += text;
    },
  });
  return { status, out, error };
}

/** Refused in one line on standard error, nothing on standard output; gives the line without the program's name. */
export async function refused(...parameters: readonly string[]): Promise<string> {
  const { status, out, error } = await call(...parameters);
  expect({ status, out }).toEqual({ status: 2, out: "" });
  expect(error).toMatch(/^gylebook: [^\n]+\n$/);
  return error.slice("gylebook: ".length, -1);
}

export const lines = (text: string): string[] => text.trimEnd().split(/\r?\n/);

/** A folder for the files of calls. */
export class Folder {
  readonly #path = mkdtempSync(join(tmpdir(), "gylebook-"));

  path(name: string): string {
    return join(this.#path, name);
  }

  /** Writes a file; gives its path. */
  file(name: string, content: string): string {
    writeFileSync(this.path(name), content);
    return this.path(name);
  }

  read(name: string): string {
    return readFileSync(this.path(name), "utf8");
  }

  end(): void {
    rmSync(this.#path, { recursive: true });
  }
}
