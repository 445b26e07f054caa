import { Command, CommanderError } from "commander";
import { calc } from "./calc.ts";
import { check } from "./check.ts";
import { CallFault, type Output } from "./output.ts";
import { type ReadOptions, read, table } from "./read.ts";
import { functions, units } from "./reference.ts";
import { tidy } from "./tidy.ts";

/** The call could not be used. */
const UNUSABLE = 2;

const several = (value: string, before: readonly string[]): string[] => [...before, value];

function program(output: Output, done: (status: number) => void): Command {
  const command = new Command("gylebook")
    .description("Calculates brewers' workbooks whose formulas are checked for units first.")
    .exitOverride()
    .configureOutput({ writeErr: () => undefined, writeOut: output.out });
  command
    .command("calc")
    .description("calculates a file and prints every sheet, or calculates formulas with no file")
    .argument("[file]")
    .option("--set <name=formula>", "gives a line another formula first; may be repeated", several, [])
    .option("-e, --expression <formula>", "calculates a formula; may be repeated", several, [])
    .option("--lens <lens>", "as-written, metric, US or imperial")
    .option("--json", "prints one JSON object", false)
    .action((file: string | undefined, options) => done(calc(file, options, output)));
  command
    .command("check")
    .description("prints faults and cautions as file:line:column code message")
    .argument("<files...>")
    .action((files: string[]) => done(check(files, output)));
  command
    .command("tidy")
    .description("prints the tidy form")
    .argument("<files...>")
    .option("--write", "writes it back instead", false)
    .action((files: string[], options: { write: boolean }) => done(tidy(files, options.write, output)));
  command
    .command("read")
    .description("reads a CSV into a table: tells what it would bring, or brings it with --write")
    .argument("<file>")
    .argument("<table>")
    .argument("<csv>")
    .option("--as <mapping>", "the mapping to read by, as a table keeps it")
    .option("--anew", "looks at the file afresh, not by the mapping kept with the table", false)
    .option("--answer <question=answer>", "answers what the data cannot decide; may be repeated", several, [])
    .option("--rejects <file>", "writes the rejected rows there as CSV")
    .option("--write", "writes the book", false)
    .action(async (file: string, name: string, csv: string, options: ReadOptions) =>
      done(await read(file, name, csv, options, output)),
    );
  command
    .command("table")
    .description("writes a table out as CSV, units in the headers")
    .argument("<file>")
    .argument("<table>")
    .action((file: string, name: string) => done(table(file, name, output)));
  command
    .command("functions")
    .description("lists the functions, or tells of one")
    .argument("[name]")
    .option("--json", "prints JSON", false)
    .action((name: string | undefined, options: { json: boolean }) => done(functions(name, options.json, output)));
  command
    .command("units")
    .description("lists the units, or tells of one")
    .argument("[name]")
    .option("--json", "prints JSON", false)
    .action((name: string | undefined, options: { json: boolean }) => done(units(name, options.json, output)));
  return command;
}

/** Runs one call and gives its exit status; every way to fail is one line where faults are written. */
export async function run(parameters: readonly string[], output: Output): Promise<number> {
  let status = 0;
  try {
    await program(output, (done) => {
      status = done;
    }).parseAsync([...parameters], { from: "user" });
  } catch (error) {
    if (error instanceof CommanderError) {
      if (error.exitCode === 0) return 0;
      const first = error.message.replace(/^error: /, "").split("\n")[0] ?? "";
      output.error(`gylebook: ${first === "(outputHelp)" ? "give a command; gylebook --help lists them" : first}\n`);
    } else if (error instanceof CallFault) output.error(`gylebook: ${error.message}\n`);
    else
      output.error(
        `gylebook: a fault of the program itself: ${error instanceof Error ? error.message : String(error)}\n`,
      );
    return UNUSABLE;
  }
  return status;
}
