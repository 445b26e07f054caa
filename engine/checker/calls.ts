import { nameKey } from "../base/names.ts";
import { nearestSpelling } from "../base/nearest.ts";
import type { Span } from "../base/span.ts";
import { type Fault, fault, type Mend, mend } from "../diagnostics/diagnostic.ts";
import { type Argument, argumentInWords } from "../library/declaration.ts";
import { ounceOfVolume } from "../operations/ambiguity.ts";
import { operandAsOne } from "../operations/arithmetic.ts";
import { GENERAL_FUNCTIONS } from "../operations/functions.ts";
import { type GeneralArgument, type GeneralFunction, isFault } from "../operations/operand.ts";
import { sharedRows } from "../operations/rows.ts";
import type { CallNode } from "../parser/tree.ts";
import { printUnit } from "../units/compound.ts";
import type { Type } from "../values/kind.ts";
import { type Check, type Found, hidden, plainly, refuse, ruled, UNKNOWN_TYPE } from "./check.ts";
import type { CheckedNode } from "./checked.ts";
import type { CheckedBody, WorkbookFunction } from "./environment.ts";
import { gravitiesMeant } from "./gravity-meant.ts";
import { functionsMeant, nameHint } from "./meant.ts";
import { type Parameter, resultType, type Signature } from "./signature.ts";
import { kindOfUnit } from "./units.ts";
import { DEPTH_LIMIT, STEPS_LIMIT } from "./work.ts";

const GENERAL = new Map(GENERAL_FUNCTIONS.map((row) => [row.name, row]));

/** A function of the workbook wins over one of the library, so that a newer library never captures a name in use. */
export function checkCall(check: Check, call: CallNode): Found {
  const key = nameKey(call.name);
  const own = check.environment.functionNamed(key);
  if (own !== null) return checkOwn(check, call, own);
  const general = GENERAL.get(key);
  if (general !== undefined) return checkGeneral(check, call, general);
  const signature = check.environment.signatures.find(key);
  if (signature !== null) return checkLibrary(check, call, signature);
  for (const { value } of call.arguments) check.part(check, value);
  const today = /^(?:today|now|date)$/i.test(call.name);
  const near = today ? [] : functionsMeant(call.name, check.environment.functionNames);
  const hint = today
    ? nameHint("today", check.environment.units, check.text)
    : CONVERTS.test(call.name)
      ? "A conversion is written with as: 20 °C as °F."
      : "";
  const mends = near.map((name) => mend(`Write ${name}`, call.nameSpan, name));
  return refuse(check, fault("unknown-function", call.nameSpan, { name: call.name, near, hint }, mends));
}

/** Names that are given to conversions where there are functions for them. */
const CONVERTS = /^convert|_to_|[a-z]2[a-z]/i;

/** Puts arguments, by place or by name, into the order of the names; null where none was given or a fault was noted. */
function place(
  check: Check,
  call: CallNode,
  names: readonly string[],
  takes: string,
  variadic = false,
): (Found | null)[] | null {
  const placed: (Found | null)[] = names.map(() => null);
  let sound = true;
  let next = 0;
  for (const argument of call.arguments) {
    const found = check.part(check, argument.value);
    let at: number;
    if (argument.name === null) {
      at = next;
      next += 1;
      if (at >= names.length && !variadic) {
        const says = "has too many arguments.";
        const data = { function: call.name, argument: "", says, takes };
        refuse(check, fault("wrong-argument", argument.span, data, decimalCommas(check, call)));
        sound = false;
        continue;
      }
    } else {
      const name = argument.name;
      at = names.findIndex((known) => nameKey(known) === nameKey(name.text));
      if (at < 0) {
        const near = nearestSpelling(name.text, names);
        refuse(
          check,
          fault(
            "wrong-argument",
            name.span,
            { function: call.name, argument: "", says: `has no argument "${name.text}".`, takes },
            near === null ? [] : [mend(`Write ${near}`, name.span, near)],
          ),
        );
        sound = false;
        continue;
      }
    }
    if (placed[at]) {
      refuse(
        check,
        fault("wrong-argument", argument.span, {
          function: call.name,
          argument: names[at] ?? "",
          says: "is given twice.",
          takes,
        }),
      );
      sound = false;
    }
    placed[at] = found;
  }
  return sound ? placed : null;
}

const DECIMAL_COMMA = /(\d),(?=\d)/g;

/** Too many arguments may come of decimal commas: a mend that makes points of them. */
function decimalCommas({ text }: Check, { span }: CallNode): Mend[] {
  const typed = text.slice(span.start, span.end);
  const commas = [...typed.matchAll(DECIMAL_COMMA)].map(({ index }) => span.start + index + 1);
  const replace = commas.map((at) => ({ span: { start: at, end: at + 1 }, text: "." }));
  return commas.length === 0 ? [] : [{ label: "Write decimal points", replace }];
}

/** The fault of arguments that must be given and are not: one for all, with what the function takes. */
const lacking = (check: Check, call: CallNode, takes: string, missing: readonly string[]): Found =>
  refuse(check, fault("missing-argument", call.span, { function: call.name, argument: missing.join(", "), takes }));

const listed = (names: readonly string[]): string =>
  names.length === 0 ? "It takes no argument." : `It takes ${names.join(", ")}.`;

/** What must be given, and what may be. */
function listedWithDefaults(all: readonly Argument[]): string {
  const [must, may] = [true, false].map((needed) =>
    all.filter((argument) => (argument.default === undefined) === needed).map(({ name }) => name),
  );
  return `${listed(must ?? [])}${may?.length ? ` It may also be given ${may.join(", ")}.` : ""}`;
}

/** The only argument of most general functions is called `of`, which says nothing. */
const calledOf = ({ name, takes }: GeneralArgument): string => (name === "of" ? takes : name);

function checkGeneral(check: Check, call: CallNode, general: GeneralFunction): Found {
  const names = general.arguments.map((argument) => argument.name);
  const placed = place(check, call, names, listed(general.arguments.map(calledOf)), general.variadic === true);
  if (placed === null) return hidden(call.span);
  const missing = general.arguments.filter(({ optional }, at) => optional !== true && !placed[at]).map(calledOf);
  if (missing.length > 0)
    return lacking(check, call, names.length === 1 ? "" : listed(general.arguments.map(calledOf)), missing);
  const found = placed.filter((one) => one !== null);
  const answer = general.rule(
    found.map(({ operand }) => operand),
    call.span,
  );
  return ruled(check, isFault(answer) ? inWords(answer, general) : answer, (type) => ({
    op: "general",
    function: general,
    operands: found.map(({ node }) => node),
    type,
    span: call.span,
  }));
}

/** A rule names its arguments; a message says what they are. The only argument, `of`, needs no words. */
function inWords(found: Fault, { arguments: all }: GeneralFunction): Fault {
  if (found.code !== "wrong-argument" && found.code !== "missing-argument") return found;
  const named = all.find(({ name }) => name === found.data.argument && name !== "of");
  if (named === undefined) return found;
  const argument = argumentInWords(named);
  return found.code === "wrong-argument"
    ? { ...found, data: { ...found.data, argument } }
    : { ...found, data: { ...found.data, argument } };
}

function checkLibrary(check: Check, call: CallNode, signature: Signature): Found {
  const { function: of, parameters } = signature;
  const names = of.arguments.map((argument) => argument.name);
  const takes = listedWithDefaults(of.arguments);
  const placed = place(check, call, names, takes);
  if (placed === null) return hidden(call.span);
  const missing = of.arguments.filter((argument, at) => argument.default === undefined && !placed[at]);
  if (missing.length > 0) return lacking(check, call, takes, missing.map(argumentInWords));
  const operands: CheckedNode[] = [];
  const each: Type[] = [];
  let sound = true;
  for (const [at, parameter] of parameters.entries()) {
    const given = placed[at] ?? defaultOf(check, parameter, call.span);
    if (given === null || given.node.type.kind.is === "unknown") sound = false;
    else if (!accepts(check, signature, parameter, given)) sound = false;
    else {
      operands.push(given.node);
      if (parameter.argument.column !== "whole") each.push(given.node.type);
    }
  }
  if (!sound) return hidden(call.span);
  const rows = sharedRows(each);
  if (rows === undefined)
    return refuse(
      check,
      fault("column-lengths", call.span, {
        says: `The columns given to ${of.name} have different rows. Bring them together with matching or interpolate.`,
      }),
    );
  const types = Object.fromEntries(
    of.arguments.map((argument, at) => [argument.name, operands[at]?.type ?? UNKNOWN_TYPE]),
  );
  return plainly({
    op: "library",
    function: of,
    signature,
    operands,
    type: resultType(signature, types, rows),
    span: call.span,
  });
}

/** A default is written in the language and was read when the signature was made. */
function defaultOf(check: Check, parameter: Parameter, span: Span): Found | null {
  if (parameter.default === null) return null;
  const found = check.part(check, parameter.default.expression);
  return { node: { ...found.node, span }, operand: { ...found.operand, span } };
}

function accepts(check: Check, { function: of }: Signature, parameter: Parameter, { node, operand }: Found): boolean {
  const { argument, fits, takes, unit } = parameter;
  const wrong = (says: string): boolean => {
    const ounce = unit === null ? null : ounceOfVolume(operand.written, kindOfUnit(unit));
    refuse(
      check,
      ounce ??
        fault(
          "wrong-argument",
          operand.span,
          { function: of.name, argument: argumentInWords(argument), says, takes },
          unitMends(check, parameter, operand),
        ),
    );
    return false;
  };
  if (!fits(node.type.kind) && !(operand.zero && parameter.unit?.is === "compound"))
    return wrong(`cannot be ${operandAsOne(operand)}.`);
  if (argument.column === "whole" && node.type.rows === null) return wrong("must be a column.");
  if (
    "text" in argument.takes &&
    argument.takes.text !== "any" &&
    node.op === "constant" &&
    typeof node.value === "string"
  ) {
    const choices = argument.takes.text;
    const text = node.value;
    if (!choices.some((choice) => choice.toLowerCase() === text.toLowerCase())) {
      refuse(check, fault("not-a-choice", operand.span, { text, choices }));
      return false;
    }
  }
  return true;
}

const PLAIN_FIGURE = /^\d+(?:\.\d+)?$/;

/** A plain number that is written out most likely has the unit that the argument takes, or is a gravity in one of its ways. */
function unitMends({ text }: Check, { unit }: Parameter, { span, type }: Found["operand"]): Mend[] {
  const typed = text.slice(span.start, span.end);
  if (!PLAIN_FIGURE.test(typed) || type.kind.is !== "quantity" || unit === null || printUnit(unit) === "") return [];
  const kind = kindOfUnit(unit);
  const gravity = kind.is === "reading" && kind.family === "gravity";
  const meant = gravity ? gravitiesMeant(typed, printUnit(unit)) : [`${typed} ${printUnit(unit)}`];
  return meant.map((literal) => mend(`Write ${literal.slice(literal.indexOf(" ") + 1)}`, span, literal));
}

const TOO_MUCH = `With the functions it calls put in, this comes to more than ${STEPS_LIMIT.toLocaleString("en")} steps, or nests more than ${DEPTH_LIMIT} deep. Calculate a part of it in a line of its own.`;

function checkOwn(check: Check, call: CallNode, own: WorkbookFunction): Found {
  const key = nameKey(own.name);
  if (check.calls.includes(key)) {
    return refuse(check, fault("circular", call.nameSpan, { path: [...check.calls.slice(check.calls.indexOf(key))] }));
  }
  const placed = place(check, call, own.parameters, listed(own.parameters));
  if (placed === null) return hidden(call.span);
  const missing = own.parameters.filter((_, at) => !placed[at]);
  if (missing.length > 0) return lacking(check, call, listed(own.parameters), missing);
  const found = placed.filter((one) => one !== null);
  const { work } = check;
  if (work.excessive || found.some(({ node }) => node.type.kind.is === "unknown")) return hidden(call.span);
  if (work.passes()) return refuse(check, fault("syntax", call.span, { says: TOO_MUCH }));
  const body = checkBody(
    check,
    own,
    key,
    found.map(({ node }) => node.type),
  );
  if (work.passes()) return refuse(check, fault("syntax", call.span, { says: TOO_MUCH }));
  if (body.root === null) {
    for (const { code, data } of body.faults) check.faults.push(fault(code, call.span, data));
    return hidden(call.span);
  }
  return plainly({
    op: "apply",
    body: body.root,
    operands: found.map(({ node }) => node),
    type: body.type,
    span: call.span,
  });
}

const typeKey = ({ kind, unit, rows }: Type): string =>
  `${kind.is === "quantity" ? kind.dimension.key : kind.is === "reading" ? kind.family : ""}:${kind.is}:${unit === null ? "" : printUnit(unit)}:${rows ?? ""}`;

/** Checks a body once for each combination of kinds that it is called with. */
function checkBody(check: Check, own: WorkbookFunction, key: string, types: readonly Type[]): CheckedBody {
  const combination = `${key}(${types.map(typeKey).join(";")})`;
  const { work } = check;
  const known = check.environment.bodies.get(combination);
  if (known !== undefined) {
    work.add(known);
    return known;
  }
  const before = { steps: work.steps, deepest: work.deepest };
  work.deepest = work.depth;
  const inner: Check = {
    environment: check.environment,
    scope: { sheet: null, table: null, filtered: null },
    parameters: new Map(
      own.parameters.map((name, index) => [nameKey(name), { name, index, type: types[index] ?? UNKNOWN_TYPE }]),
    ),
    text: own.body.text,
    calls: [...check.calls, key],
    work,
    faults: [...own.body.faults],
    part: check.part,
  };
  const root = check.part(inner, own.body.expression).node;
  const sound = inner.faults.length === 0;
  const body: CheckedBody = {
    type: sound ? root.type : UNKNOWN_TYPE,
    root: sound ? root : null,
    faults: inner.faults,
    steps: work.steps - before.steps,
    depth: work.deepest - work.depth,
  };
  work.deepest = Math.max(work.deepest, before.deepest);
  if (!work.excessive) check.environment.bodies.set(combination, body);
  return body;
}
