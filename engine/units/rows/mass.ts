import type { LinearUnit } from "../unit.ts";
import { MASS, POUND, POUND_MASS, row, SI, SP811, TRADE, UK_MEASURES } from "./row.ts";

/** Masses, in kg. */
export const MASSES: readonly LinearUnit[] = [
  row("kg", ["kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"], MASS, 1, 1, SI),
  row("g", ["gram", "grams", "gramme", "grammes"], MASS, 1e-3, 1, SI),
  row("mg", ["milligram", "milligrams"], MASS, 1e-6, 1, SI),
  row("µg", ["ug", "mcg", "microgram", "micrograms"], MASS, 1e-9, 1, SI),
  row("t", ["tonne", "tonnes", "metric ton", "metric tons"], MASS, 1000, 3, SI),
  row("q", ["quintal", "quintals"], MASS, 100, 2, SP811),
  row("lb", ["lbs", "pound", "pounds"], MASS, POUND_MASS, 1, POUND),
  row("oz", ["ounce", "ounces"], MASS, 0.028349523125, 2, POUND),
  row("gr", [], MASS, 6.479891e-5, 1, POUND),
  row("stone", ["stones"], MASS, 6.35029318, 2, UK_MEASURES),
  row("UK cwt", ["imp cwt", "long cwt", "UK hundredweight", "long hundredweight"], MASS, 50.80234544, 2, SP811),
  row("US cwt", ["short cwt", "US hundredweight", "short hundredweight"], MASS, 45.359237, 2, SP811),
  row("short ton", ["short tons", "US ton", "US tons"], MASS, 907.18474, 3, SP811),
  row("long ton", ["long tons", "UK ton", "UK tons", "imp ton", "imp tons"], MASS, 1016.0469088, 3, UK_MEASURES),
  row("Ztr", ["Zentner", "zentner"], MASS, 50, 2, `${TRADE} (hop trade, 50 kg)`),
  row("bu malt", ["malt bushel", "malt bushels"], MASS, 15.42214058, 1, `${TRADE} (US malt bushel, 34 lb)`),
  row("qr malt", ["malt quarter", "malt quarters"], MASS, 152.40703632, 1, `${TRADE} (UK malt quarter, 336 lb)`),
];
