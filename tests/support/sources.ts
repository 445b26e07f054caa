import { readdirSync, readFileSync } from "node:fs";
import { posix } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));

/** Folders that a run makes and `.gitignore` keeps out; nothing in them is written by hand. */
const MADE = new Set([".git", "node_modules", "dist", "coverage"]);

/** The names at the top of the repository, sorted. */
export const topLevel = (): string[] =>
  readdirSync(ROOT)
    .filter((name) => !MADE.has(name))
    .sort();

/** Every file written by hand, as a path from the top with forward slashes, sorted. */
export const files = (folder = ""): string[] =>
  readdirSync(ROOT + folder, { withFileTypes: true })
    .filter((entry) => !MADE.has(entry.name))
    .flatMap((entry) => (entry.isDirectory() ? files(`${folder}${entry.name}/`) : [folder + entry.name]))
    .sort();

/** The text of a file named by its path from the top. */
export const read = (path: string): string => readFileSync(ROOT + path, "utf8");

/** What a module imports or re-exports from elsewhere. */
export interface Import {
  /** As written, without a query such as `?inline`. */
  readonly specifier: string;
  /** The path from the top, when it is a file of ours. */
  readonly file: string | undefined;
  /** The name of the package or built-in module, otherwise. */
  readonly package: string | undefined;
}

const IMPORTS = /^(?:import|export)\b[^"';]*\bfrom\s+"([^"]+)"|^import\s+"([^"]+)"|\bimport\(\s*"([^"]+)"/gm;

const packageOf = (specifier: string): string =>
  specifier.startsWith("node:")
    ? "node:"
    : specifier
        .split("/")
        .slice(0, specifier.startsWith("@") ? 2 : 1)
        .join("/");

/** The imports of a module, types included, in the order of the text. */
export const importsOf = (path: string): Import[] =>
  [...read(path).matchAll(IMPORTS)].map((match) => {
    const specifier = (match[1] ?? match[2] ?? match[3] ?? "").replace(/\?.*$/, "");
    return specifier.startsWith(".")
      ? { specifier, file: posix.join(posix.dirname(path), specifier), package: undefined }
      : { specifier, file: undefined, package: packageOf(specifier) };
  });

/** The first ring of imports found among these modules, as a path that ends where it began; empty when there is none. */
export const findCycle = (paths: readonly string[]): string[] => {
  const finished = new Set<string>();
  const known = new Set(paths);
  const visit = (path: string, trail: string[]): string[] => {
    const start = trail.indexOf(path);
    if (start >= 0) return [...trail.slice(start), path];
    if (finished.has(path)) return [];
    for (const { file } of importsOf(path)) {
      const ring = file !== undefined && known.has(file) ? visit(file, [...trail, path]) : [];
      if (ring.length > 0) return ring;
    }
    finished.add(path);
    return [];
  };
  for (const path of paths) {
    const ring = visit(path, []);
    if (ring.length > 0) return ring;
  }
  return [];
};
