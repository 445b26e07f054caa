import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, renameSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** Names a browser to use before any other: the path of a Chromium executable. */
export const CHROMIUM_VARIABLE = "GYLEBOOK_CHROMIUM";

/** Where Debian and its relatives put the browser. */
const SYSTEM_CHROMIUM = "/usr/bin/chromium";

/** A browser that takes longer than this to tell its version will not run tests either. */
const PROBE_MS = 30_000;

/** Chromium refuses its sandbox to root; the rest keeps it from reaching for a display or the network. */
export const CHROMIUM_FLAGS: string[] = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** The browser's own default comes from LANG, which need not be a language tag (`C.UTF-8`). */
export const TEST_LOCALE = "en-GB";

const starts = (path: string): boolean => {
  if (!existsSync(path)) return false;
  try {
    execFileSync(path, ["--version", "--no-sandbox"], { stdio: "ignore", timeout: PROBE_MS });
    return true;
  } catch {
    return false;
  }
};

/** Runs `work` with environment variables set, and puts them back as they were. */
const withEnvironment = async <T>(variables: Record<string, string>, work: () => Promise<T>): Promise<T> => {
  const before = Object.keys(variables).map((name) => [name, process.env[name]] as const);
  Object.assign(process.env, variables);
  try {
    return await work();
  } finally {
    for (const [name, value] of before) {
      if (value === undefined) delete process.env[name];
      else process.env[name] = value;
    }
  }
};

/**
 * The browser that comes as an npm package. It is unpacked once, beside the libraries that a bare machine may lack,
 * and moved into place whole, so that two runs at once cannot meet half a browser.
 */
const fromPackage = async (): Promise<string | undefined> => {
  const home = join(tmpdir(), `gylebook-chromium-${process.getuid?.() ?? "user"}`);
  if (!existsSync(home)) {
    const { default: packaged } = await import("@sparticuz/chromium");
    const fresh = mkdtempSync(`${home}-`);
    // The package unpacks its libraries only where it believes itself on a host of this runtime.
    const variables = { TMPDIR: fresh, AWS_LAMBDA_JS_RUNTIME: "nodejs20.x" };
    await withEnvironment(variables, () => packaged.executablePath());
    try {
      renameSync(fresh, home);
    } catch {
      rmSync(fresh, { recursive: true, force: true });
    }
  }
  const path = join(home, "chromium");
  if (!existsSync("/etc/fonts/fonts.conf")) process.env.FONTCONFIG_PATH ??= join(home, "fonts");
  if (starts(path)) return path;
  process.env.LD_LIBRARY_PATH = [join(home, "al2023", "lib"), process.env.LD_LIBRARY_PATH].filter(Boolean).join(":");
  return starts(path) ? path : undefined;
};

const fromApt = (): string | undefined => {
  if (process.getuid?.() !== 0 || !existsSync("/usr/bin/apt-get")) return undefined;
  try {
    execFileSync("apt-get", ["update"], { stdio: "ignore" });
    execFileSync("apt-get", ["install", "-y", "--no-install-recommends", "chromium"], { stdio: "ignore" });
  } catch {
    return undefined;
  }
  return starts(SYSTEM_CHROMIUM) ? SYSTEM_CHROMIUM : undefined;
};

/**
 * The path of a Chromium that starts: the one named by `GYLEBOOK_CHROMIUM`, the system's, the one that `npm ci`
 * brought, or, for root on Debian, one installed now.
 *
 * @throws Error telling what was tried and what would help, when there is none.
 */
export const findChromium = async (): Promise<string> => {
  const named = process.env[CHROMIUM_VARIABLE];
  if (named !== undefined && named !== "") {
    if (starts(named)) return named;
    throw new Error(`${CHROMIUM_VARIABLE} names ${named}, which does not start as a browser.`);
  }
  if (starts(SYSTEM_CHROMIUM)) return SYSTEM_CHROMIUM;
  const found = (await fromPackage()) ?? fromApt();
  if (found !== undefined) return found;
  throw new Error(
    `No Chromium for the browser tests: ${SYSTEM_CHROMIUM} is not there, and the packaged browser does not start here. ` +
      `Install Chromium, or set ${CHROMIUM_VARIABLE} to its path.`,
  );
};
