import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { buildSync } from "esbuild";

/** The command line, bundled afresh as the package does it, in a folder of its own. */
export class Bench {
  readonly #folder = mkdtempSync(join(tmpdir(), "gylebook-"));
  readonly #program = join(this.#folder, "gylebook.cjs");

  constructor() {
    buildSync({
      entryPoints: [new URL("../../engine/cli/main.ts", import.meta.url).pathname],
      bundle: true,
      platform: "node",
      target: "node20",
      format: "cjs",
      logLevel: "silent",
      outfile: this.#program,
    });
  }

  /** Writes a file to call the program with; gives its path. */
  file(name: string, content: string | Uint8Array): string {
    const path = join(this.#folder, name);
    writeFileSync(path, content);
    return path;
  }

  read(path: string): string {
    return readFileSync(path, "utf8");
  }

  call(...parameters: readonly string[]): { status: number | null; out: string; error: string } {
    const { status, stdout, stderr } = spawnSync(process.execPath, [this.#program, ...parameters], {
      encoding: "utf8",
      cwd: this.#folder,
      maxBuffer: 64 * 1024 * 1024,
    });
    return { status, out: stdout, error: stderr };
  }

  end(): void {
    rmSync(this.#folder, { recursive: true });
  }
}
