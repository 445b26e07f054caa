/** Units that a brewer reads off one kind of instrument; the first that holds a field's unit gives its keys. */
const INSTRUMENTS: readonly (readonly string[])[] = [
  ["°C", "°F"],
  ["Δ°C", "Δ°F"],
  ["°P", "SG", "°Bx"],
  ["lb", "oz"],
  ["kg", "lb", "oz"],
  ["g", "oz", "lb"],
  ["L", "US gal", "hL"],
  ["hL", "US bbl", "L"],
  ["imp gal", "L", "UK bbl"],
  ["bar", "psi", "kPa"],
  ["cm", "inch", "mm"],
  ["min", "h", "s"],
  ["mL", "L", "g"],
  ["day", "h", "min"],
];

/** Units that scales, rules and dip sticks give in halves and eighths. */
const IN_FRACTIONS = /^(?:lb|oz|inch|ft|(?:(?:US|imp|UK) )?(?:gal|bbl|qt|pt|fl oz))$/;

/**
 * The keys beside the digits for a field in `unit`: its own unit first, then others of the same instrument. A unit that is
 * read in fractions leaves room for what `36 1/8` is typed with: a space, and a stroke in place of the minus.
 */
export const unitKeys = (unit: string): readonly string[] => {
  if (unit === "") return [];
  const found = INSTRUMENTS.find((units) => units.includes(unit)) ?? [];
  const units = [unit, ...found.filter((other) => other !== unit)];
  if (!IN_FRACTIONS.test(unit)) return units.slice(0, 3);
  return [unit, units[1] ?? "", " ", "/"];
};

/** What a key does to what is typed: a unit stands apart from the figure before it, "erase" takes the last sign or unit away. */
export const pressKey = (draft: string, key: string): string => {
  if (key === "erase") return draft.replace(/(?:(?<=\d)\s|\s*[^\s\d.:/-]+(?:\s[^\s\d.:/-]+)*|.)$/u, "");
  if (/^[\d.:/-]$/.test(key)) return /[^\d.:/\s-]$/u.test(draft) ? `${draft} ${key}` : draft + key;
  return key === " " ? `${draft.trimEnd()} `.trimStart() : `${draft.trimEnd()} ${key}`.trimStart();
};
