import { nameKey } from "../base/names.ts";
import type { ShownUnit } from "../units/unit.ts";
import type { ReadUnit } from "./units-in-text.ts";

/** What a column of a CSV is for, as far as its header tells. */
export type Role =
  | "instant"
  | "date"
  | "clock"
  | "gravity"
  | "angle"
  | "temperature"
  | "set point"
  | "pressure"
  | "pH"
  | "gross"
  | "net"
  | "tare"
  | "weight"
  | "volume"
  | "unit"
  | "tank"
  | "product"
  | "verdict"
  | "serial"
  | "other";

export interface Header {
  /** As it stands in the file, outer blanks aside; a repeated one gets `#2`, an empty one `column 3`. */
  readonly text: string;
  /** Without the unit. */
  readonly label: string;
  /** The unit's spelling, from the header or from a row of units; null when none is given. */
  readonly unit: string | null;
  readonly role: Role;
}

/** Words of headers in the languages in which brewery instruments commonly write; the first row that fits decides. */
const ROLES: readonly (readonly [Role, RegExp])[] = [
  ["set point", /\bset ?-?_?point|\bsetp|\bset\b|\bsp\b|\bsoll|\btarget\b|\bconsigne/],
  ["angle", /\btilt|\bangle|\binclin|\bwinkel|\bneigung/],
  ["unit", /^units?$|^uom$|^einheit$|^unit[ée]s?$/],
  ["verdict", /\bverdict|\bstatus|\bresult|\breject|\bclass|\bzone\b|\baccept|\bjudg/],
  ["gross", /\bgross|\bbrutto|\bbrut\b/],
  ["net", /\bnet\b|\bnetto|\bnett\b/],
  ["tare", /\btare?\b|\btara\b/],
  [
    "serial",
    /\bserial|\bcount(?:er)?\b|\bno\.?$|\bnr\.?$|^#$|\bsequence|\bseq\b|\bindex\b|^id$|\bpackage\b|\brecord\b/,
  ],
  [
    "instant",
    /\btime ?stamp|\bdate ?_?[/&+-]? ?time|\bdatum ?[/&+-]? ?(?:uhr)?zeit|\bepoch|\bunix|^taken$|^when$|\bzeitstempel|\bhorodat/,
  ],
  ["date", /\bdate\b|\bdatum|\bday\b|\btag\b|\bfecha|\bjour\b/],
  ["clock", /\btime\b|\bzeit|\buhrzeit|\bclock|\bheure|\bhora\b/],
  [
    "gravity",
    /\bgravity|\bsg\b|\bplato|\bextract|\bextrakt|\bdensit|\bdichte|\bbrix|°p\b|\bstammw|\bg\.?u\.?\b|\bpoints\b|\bdensité/,
  ],
  ["temperature", /\btemp|\bwort t\b|°[cf]\b|\bdeg ?[cf]\b/],
  ["pressure", /\bpress|\bdruck|\bpsi\b|\bbar\b|\bkpa\b/],
  ["pH", /\bph\b/],
  [
    "tank",
    /\btank|\bvessel|\bferment[eo]r|\bfv\b|\bbbt\b|\buni ?tank|\bcuve|\bprobe\b|\bsensor\b|\bchannel\b|\bkanal\b/,
  ],
  ["product", /\bproduct|\bprodukt|\bproduit|\barticle|\bartikel|\bsku\b|\bbrand\b|\bbeer\b|\brecipe/],
  ["weight", /\bweigh|\bmass|\bgewicht|\bpoids|\bpeso/],
  ["volume", /\bvol|\blit(?:re|er)/],
];

/** Spellings of units that headers use and that are no unit in a formula. */
const HEADER_UNITS: Readonly<Record<string, string>> = {
  ...{
    c: "°C",
    f: "°F",
    "deg c": "°C",
    "deg f": "°F",
    degc: "°C",
    degf: "°F",
    celsius: "°C",
    fahrenheit: "°F",
    k: "K",
  },
  ...{
    p: "°P",
    plato: "°P",
    "deg p": "°P",
    "degrees plato": "°P",
    sg: "SG",
    "s.g.": "SG",
    brix: "°Bx",
    "°brix": "°Bx",
    gu: "GU",
  },
  ...{
    "sg x 1000": "SG×1000",
    "sg x1000": "SG×1000",
    "sg×1000": "SG×1000",
    "sg*1000": "SG×1000",
    sgx1000: "SG×1000",
    "sg × 1000": "SG×1000",
  },
  ...{
    psig: "psi",
    barg: "bar",
    "kpa g": "kPa",
    kpag: "kPa",
    "bar g": "bar",
    "psi g": "psi",
    "% abv": "% vol",
    ph: "pH",
    lbs: "lb",
    "kg/m3": "kg/m³",
    "g/cm3": "g/cm³",
  },
};

/** A header's unit as a formula writes it: the figures under `SG×1000` are SG without their point. */
export const formulaUnit = (unit: string): string => (unit === "SG×1000" ? "SG" : unit);

/** The unit that an entry spells, as a formula or a header writes it: `18.4 C`, `12 lbs`; null for none. */
export function entryUnit(text: string, readUnit: ReadUnit): ShownUnit | null {
  const unit = readUnit(text);
  if (unit !== null) return unit;
  const called = headerUnit(text, () => false);
  return called === null ? null : readUnit(called);
}

/** No unit is spelt longer; what is longer is not looked up. */
const LONGEST_UNIT = 40;

/** Whether a spelling is a unit that the workbook reads. */
export type KnowsUnit = (spelling: string) => boolean;

/** The unit that `text` spells, as a formula writes it, or null. `SG×1000` is a spelling of CSVs alone. */
export function headerUnit(text: string, knows: KnowsUnit): string | null {
  const plain = text.trim().replace(/\s+/g, " ").replace(/^º|^˚/, "°");
  if (plain === "" || plain.length > LONGEST_UNIT) return null;
  const alias = plain.toLowerCase();
  if (Object.hasOwn(HEADER_UNITS, alias)) return HEADER_UNITS[alias] ?? null;
  return knows(plain) ? plain : null;
}

/** Splits `Temp (°F)`, `gravity [°P]`, `pressure psi`, `Temp, °C`, `temp_f` or `SG` into label and unit. */
export function readHeader(text: string, knows: KnowsUnit, unitBelow: string | null = null): Header {
  const bracket = /^(.*?)\s*[([{]\s*([^()[\]{}]*)\s*[)\]}]\s*$/.exec(text);
  const below = unitBelow === null ? null : headerUnit(unitBelow.replace(/^[([{]|[)\]}]$/g, ""), knows);
  const inBrackets = bracket?.[2] === undefined ? null : headerUnit(bracket[2], knows);
  let label = text;
  let unit = below ?? inBrackets;
  if (inBrackets !== null) label = bracket?.[1] ?? text;
  else if (unit === null) {
    // The shortest ending that is a unit would take `L` from `mg/L`: the longest one is meant.
    for (const found of text.matchAll(/[\s_,/|]+/g)) {
      if (text.length - found.index > LONGEST_UNIT) continue;
      const ending = headerUnit(text.slice(found.index + found[0].length), knows);
      // The `m/m` of `% m/m` is no length.
      if (ending === null || found.index === 0 || /\s%/.test(text.slice(0, found.index))) continue;
      unit = ending;
      label = text.slice(0, found.index);
      break;
    }
    unit ??= headerUnit(text.replace(/[()[\]{}]/g, " "), (spelling) => spelling.length > 1 && knows(spelling));
  }
  label = label.trim() === "" ? text : label.trim();
  return { text, label, unit, role: roleOf(text) };
}

/** A temperature, or two, that a reading is referred to: `20 °C`, `20/20`. */
const REFERENCE = /^\d+(?:[.,]\d+)?\s*°?\s*[CF]?(?:\s*\/\s*\d+(?:[.,]\d+)?\s*°?\s*[CF]?)?$/i;

/** What a header without a unit has in brackets at its end, or from a `%` on: perhaps a unit that is not known. Null for none. */
export function bracketOf({ text, unit }: Header): string | null {
  const found = unit === null ? (/[([{]\s*([^()[\]{}]+?)\s*[)\]}]\s*$/.exec(text) ?? /\s(%.*)$/.exec(text)) : null;
  return found?.[1] === undefined || REFERENCE.test(found[1]) ? null : found[1];
}

/** What a column is for, by the words of its header or label. */
export function roleOf(text: string): Role {
  const words = text
    .toLowerCase()
    .replace(/[_.:;,|]+/g, " ")
    .replace(/\s+/g, " ")
    .trim();
  return ROLES.find(([, pattern]) => pattern.test(words))?.[0] ?? "other";
}

/** Names for the columns of a header row: never empty and never twice the same. */
export function distinctHeaders(entries: readonly string[]): string[] {
  const seen = new Map<string, number>();
  return entries.map((entry, at) => {
    const text = entry.trim().replace(/\s+/g, " ") || `column ${at + 1}`;
    const times = (seen.get(nameKey(text)) ?? 0) + 1;
    seen.set(nameKey(text), times);
    return times === 1 ? text : `${text} #${times}`;
  });
}
