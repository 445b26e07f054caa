import { run } from "./program.ts";

// A reader that stops reading (`| head`) is no fault.
process.stdout.on("error", () => process.exit(0));
run(process.argv.slice(2), {
  out: (text) => process.stdout.write(text),
  error: (text) => process.stderr.write(text),
}).then((status) => {
  process.exitCode = status;
});
