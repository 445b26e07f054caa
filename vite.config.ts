import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { defineConfig, type Plugin } from "vite";
import { VitePWA } from "vite-plugin-pwa";

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** The manifest needs the icon under a name that never changes; the build would give it one of its own. */
const namedIcon = (): Plugin => ({
  name: "named-icon",
  apply: "build",
  generateBundle() {
    this.emitFile({ type: "asset", fileName: "icon.svg", source: readFileSync(here("components/icon.svg")) });
  },
});

/** Modules that do nothing when they are loaded but make what they export. */
const ONLY_DECLARE = /\/engine\/|\/node_modules\/(?:papaparse|chevrotain|@chevrotain|lodash-es)\//;

/** What stands for Chevrotain's lexer: the sign of a token type that no lexer makes, and a name that its list of exports wants. */
const NO_LEXER = "export const Lexer = { NA: /NOT_APPLICABLE/ }; export const LexerDefinitionErrorType = {};";

/** Chevrotain without its lexer, a third of the library as it is sent: our tokens are made by hand (engine/parser). */
const withoutLexer = (): Plugin => ({
  name: "without-lexer",
  apply: "build",
  enforce: "pre",
  load: (id) => (id.endsWith("/chevrotain/lib/src/scan/lexer_public.js") ? NO_LEXER : null),
});

/** Styles without their comments and their blanks, which every visit would carry. */
const tightStyles = (): Plugin => ({
  name: "tight-styles",
  apply: "build",
  enforce: "pre",
  transform: (code, id) =>
    id.includes("/components/")
      ? code.replace(/\bcss`[^`]*`/g, (style) =>
          style
            .replace(/\/\*.*?\*\//gs, "")
            .replace(/\s+/g, " ")
            .replace(/(?<=[:;,{}]) | (?=[{}])/g, ""),
        )
      : null,
});

/** What the built page may load and run: its own files, and nothing generated, written inline or fetched from elsewhere. */
const POLICY = [
  "default-src 'self'",
  "img-src 'self' data: blob:",
  "worker-src 'self' blob:",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
].join("; ");

/** Writes the policy into the built page; the development server cannot live under it. */
const strictPolicy = (): Plugin => ({
  name: "strict-policy",
  apply: "build",
  transformIndexHtml: () => [
    { tag: "meta", attrs: { "http-equiv": "Content-Security-Policy", content: POLICY }, injectTo: "head-prepend" },
  ],
});

/** The page: `components/index.html`, with the folder `workbooks` served as it stands. */
export default defineConfig({
  root: here("components"),
  base: "./",
  publicDir: here("workbooks"),
  build: {
    outDir: here("components/dist"),
    emptyOutDir: true,
    target: "es2022",
    // A browser that knows no such hint loads the same files a moment later.
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
    // The engine with its grammar and the texts of its functions is one piece: all of it is needed for the first figure.
    chunkSizeWarningLimit: 800,
    // What only one part of the page uses of them is loaded with that part: reading CSVs is no business of the first paint.
    rolldownOptions: { treeshake: { moduleSideEffects: (id) => !ONLY_DECLARE.test(id) } },
  },
  worker: { plugins: () => [withoutLexer()] },
  plugins: [
    namedIcon(),
    strictPolicy(),
    withoutLexer(),
    tightStyles(),
    VitePWA({
      // A newer program waits until it is let in (components/storage/update.ts) or no tab runs the older one: no page then
      // asks for a part of itself that is no longer there.
      registerType: "prompt",
      injectRegister: "script-defer",
      workbox: {
        // The page of the first visit too gets its later parts from what was kept.
        clientsClaim: true,
        globPatterns: ["**/*.{html,js,css,svg,woff2,gyle,csv}"],
        cleanupOutdatedCaches: true,
      },
      manifest: {
        name: "Gylebook",
        short_name: "Gylebook",
        description: "A brew log that calculates, and checks its units first",
        start_url: "./",
        display: "standalone",
        background_color: "#f4f3ec",
        theme_color: "#14655a",
        file_handlers: [{ action: "./", accept: { "text/plain": [".gyle"] } }],
        icons: [{ src: "icon.svg", sizes: "any", type: "image/svg+xml", purpose: "any" }],
      },
    }),
  ],
});
