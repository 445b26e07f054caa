import { zoneOf } from "./clock.ts";
import type { Preamble, Said } from "./preamble.ts";

/** Abbreviations that mean one offset wherever they are in use, in lower case, in hours east of UTC. Common practice, as the IANA time zone database abbreviates the zones of Europe; German ones too. */
export const FIXED_ZONES: ReadonlyMap<string, number> = new Map([
  ...(["z", "utc", "gmt", "ut", "wet"] as const).map((name): [string, number] => [name, 0]),
  ...(["cet", "mez", "west"] as const).map((name): [string, number] => [name, 1]),
  ...(["cest", "mesz", "eet"] as const).map((name): [string, number] => [name, 2]),
  ["eest", 3],
]);

/** Abbreviations that mean one offset here and another there, or stand for a clock that is changed. North America: RFC 5322, 4.3; the others from memory. */
const SEVERAL_ZONES = new Map(
  Object.entries({
    EST: { "-05:00": "North America", "+10:00": "Australia" },
    EDT: { "-04:00": "North America", "+11:00": "Australia" },
    CST: { "-06:00": "North America", "+08:00": "China" },
    CDT: { "-05:00": "North America" },
    MST: { "-07:00": "North America" },
    MDT: { "-06:00": "North America" },
    PST: { "-08:00": "North America" },
    PDT: { "-07:00": "North America" },
    BST: { "+01:00": "British summer", "+06:00": "Bangladesh" },
    IST: { "+05:30": "India", "+01:00": "Irish summer", "+02:00": "Israel" },
  }).map(([name, places]): [string, [string, string][]] => [name, Object.entries(places)]),
);

/** A zone as a text names it: one that can be read, or an abbreviation with the offsets that it may mean. */
export type NamedZone =
  | { readonly zone: string }
  | { readonly name: string; readonly mayBe: readonly (readonly [offset: string, where: string])[] };

const OFFSET = /^(?:utc|gmt)?\s?[+\-\u2212]\d{1,2}(?::?\d{2})?(?!\d)/i;
const OFFSET_IN_TEXT = /(?<![a-z])(?:utc|gmt)\s?[+\-\u2212]\d.*$/i;
const PLACE = /[A-Za-z]+(?:\/[A-Za-z_]+(?:[+-]\d{1,2})?){1,2}/;
const UTC = /(?<![a-z])(?:utc|gmt|zulu)(?![a-z])/i;

/** The zone that a text names, a header or what stands above a table; null where it names none. */
export function zoneNamedIn(text: string): NamedZone | null {
  const place = PLACE.exec(text)?.[0];
  if (place !== undefined && zoneOf(place) !== null) return { zone: place };
  const bracketed = [...text.matchAll(/[([{]\s*([^()[\]{}]+?)\s*[)\]}]/g)].map((found) => found[1] ?? "");
  for (const part of [...bracketed, OFFSET_IN_TEXT.exec(text)?.[0] ?? "", text]) {
    const offset = OFFSET.exec(part)?.[0].replace(/\s/g, "");
    if (offset !== undefined && zoneOf(offset) !== null) return { zone: offset };
    if (/^z$/i.test(part)) return { zone: "UTC" };
  }
  if (UTC.test(text)) return { zone: "UTC" };
  for (const word of text.match(/(?<![A-Za-z])[A-Z]{2,5}(?![A-Za-z])/g) ?? []) {
    const mayBe = SEVERAL_ZONES.get(word);
    if (mayBe !== undefined) return { name: word, mayBe };
    // `DATE WEST TANK` is a place.
    const hours = FIXED_ZONES.get(word.toLowerCase());
    if (hours !== undefined && (word !== "WEST" || bracketed.includes(word)))
      return { name: word, mayBe: [[`+0${hours}:00`, "in summer and in winter"]] };
    // Only in brackets: `Time (NZST)`.
    if (/^[A-Z]{1,3}[SD]T$/.test(word) && bracketed.includes(word)) return { name: word, mayBe: [] };
  }
  return null;
}

const ZONE_KEY = /^(?:time ?zone|tz|zeitzone|fuseau(?: horaire)?|(?:utc|gmt) ?offset)$/i;
const OWN_CLOCK = /\b(?:local|lokal|locale|auto)/i;

/** The zone that the lines above a table name; null where they name none, or the clock of the place. */
export function zoneAbove(preamble: Preamble): (NamedZone & { readonly said: Said }) | null {
  const said = preamble.saidUnder(ZONE_KEY);
  if (said === null || OWN_CLOCK.test(said.value)) return null;
  return { ...(zoneNamedIn(said.value) ?? { name: said.value, mayBe: [] }), said };
}
