import { fileURLToPath } from "node:url";
import { defineConfig } from "vite";

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** The page: `components/index.html`, with the folder `workbooks` served as it stands. */
export default defineConfig({
  root: here("components"),
  base: "./",
  publicDir: here("workbooks"),
  build: { outDir: here("components/dist"), emptyOutDir: true, target: "es2022" },
  server: { host: "localhost", port: 5173 },
  preview: { host: "localhost", port: 4173 },
});
