/** Units that a brewer reads off one kind of instrument; the first that holds a field's unit gives its keys. */
const INSTRUMENTS: readonly (readonly string[])[] = [
  ["°C", "°F"],
  ["Δ°C", "Δ°F"],
  ["°P", "SG", "°Bx"],
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

/** The keys of the pad's last column for a field in `unit`: its own unit first, then the others of the same instrument. */
export const unitKeys = (unit: string): readonly string[] => {
  if (unit === "") return [];
  const found = INSTRUMENTS.find((units) => units.includes(unit)) ?? [];
  return [unit, ...found.filter((other) => other !== unit)].slice(0, 3);
};

/** What a key does to what is typed: a unit stands apart from the figure before it, "erase" takes the last sign or unit away. */
export const pressKey = (draft: string, key: string): string => {
  if (key === "erase") return draft.replace(/(?:\s*[^\s\d.:-]+(?:\s[^\s\d.:-]+)*|.)\s*$/u, "");
  if (/^[\d.:-]$/.test(key)) return /[^\d.:\s-]$/u.test(draft) && key !== " " ? `${draft} ${key}` : draft + key;
  return key === " " ? `${draft} ` : `${draft.trimEnd()} ${key}`.trimStart();
};
