import { nameKey } from "../base/names.ts";
import { GENERAL_FUNCTIONS } from "../operations/functions.ts";
import type { Model } from "../workbook/model.ts";
import type { Part } from "./parts.ts";

/** An argument as help tells it. */
export interface ArgumentHelp {
  readonly name: string;
  readonly says: string;
  /** In words: `It takes a temperature, such as in °C.` */
  readonly takes: string;
  /** What it is when it is not given, `20 °C`; empty: an optional one without such a value; null: it must be given. */
  readonly usual: string | null;
  /** The texts that it takes, where these are listed. */
  readonly choices: readonly string[];
}

/** A function as help tells it, whoever made it. */
export interface FunctionHelp {
  readonly name: string;
  readonly says: string;
  readonly arguments: readonly ArgumentHelp[];
  readonly variadic: boolean;
}

/** The argument that the cursor is in. */
export interface ArgumentInHand {
  readonly function: FunctionHelp;
  /** Place of the argument among the function's, from 0; past the last where there are too many. */
  readonly index: number;
  /** Null where the function has no such argument. */
  readonly argument: ArgumentHelp | null;
}

/** A call that is open at the end of the text. */
export interface Call {
  readonly name: string;
  /** Names of the arguments given before the one in hand. */
  readonly named: readonly string[];
  /** How many were given by place before the one in hand. */
  readonly placed: number;
  /** The name before the one in hand, `rest:`, or null. */
  readonly current: string | null;
  /** Whether the argument in hand begins at this offset. */
  readonly atStart: (at: number) => boolean;
}

interface Open {
  readonly name: string | null;
  readonly named: string[];
  placed: number;
  current: string | null;
  /** Past the parenthesis, comma or argument's name behind which the argument stands. */
  start: number;
}

/** The innermost function call that is still open behind the parts of `text`; null when none is. */
export function callAround(parts: readonly Part[], text: string): Call | null {
  const open: Open[] = [];
  for (const [at, part] of parts.entries()) {
    if (part.is === "open") {
      const before = parts[at - 1];
      const name = before?.is === "function" && before.end === part.start ? text.slice(before.start, before.end) : null;
      open.push({ name, named: [], placed: 0, current: null, start: part.end });
    } else if (part.is === "close") open.pop();
    const call = open.at(-1);
    if (call === undefined) continue;
    if (part.is === "argument") call.current = text.slice(part.start, part.end).replace(/\s*:$/, "");
    if (part.is !== "comma") continue;
    if (call.current === null) call.placed += 1;
    else call.named.push(call.current);
    call.current = null;
    call.start = part.end;
  }
  const call = open.findLast(({ name }) => name !== null);
  if (call === undefined || call.name === null || call !== open.at(-1)) return null;
  const { name, named, placed, current, start } = call;
  return { name, named, placed, current, atStart: (at) => current === null && text.slice(start, at).trim() === "" };
}

/** The argument that a call has in hand; null for a function that nobody knows. */
export function inHand(model: Model, call: Call): ArgumentInHand | null {
  const help = helpOf(model, call.name);
  if (help === null) return null;
  const index = indexOf(help, call);
  return { function: help, index, argument: help.arguments[index] ?? null };
}

function indexOf({ arguments: all, variadic }: FunctionHelp, { current, named, placed }: Call): number {
  if (current !== null) return all.findIndex(({ name }) => nameKey(name) === nameKey(current));
  const given = new Set(named.map(nameKey));
  const next = all.findIndex(({ name }, at) => at >= placed && !given.has(nameKey(name)));
  return next < 0 && variadic ? all.length - 1 : next < 0 ? placed : next;
}

/** A function of the workbook, a general one or one of the library; null when there is none. */
export function helpOf(model: Model, typed: string): FunctionHelp | null {
  const key = nameKey(typed);
  const own = model.environment.functionNamed(key);
  if (own !== null) {
    const given = own.parameters.map((name) => ({ name, says: "", takes: "", usual: null, choices: [] }));
    return { name: own.name, says: `Defined in this book: ${own.body.text.trim()}`, arguments: given, variadic: false };
  }
  const general = GENERAL_FUNCTIONS.find(({ name }) => name === key);
  if (general !== undefined) {
    const given = general.arguments.map(({ name, says, takes, optional }) => ({
      name,
      says,
      takes: `It takes ${takes}.`,
      usual: optional === true ? "" : null,
      choices: [],
    }));
    return { name: general.name, says: general.says, arguments: given, variadic: general.variadic === true };
  }
  const signature = model.environment.signatures.find(key);
  if (signature === null) return null;
  const given = signature.parameters.map(({ argument, takes }) => ({
    name: argument.name,
    says: argument.says,
    takes,
    usual: argument.default ?? null,
    choices: "text" in argument.takes && argument.takes.text !== "any" ? argument.takes.text : [],
  }));
  return { name: signature.function.name, says: signature.function.says, arguments: given, variadic: false };
}
