import { describe } from "vitest";
import { holdsPins, standsWell } from "./shipped.ts";

describe("the yeast", () => {
  const book = standsWell("yeast", { blanks: [], cautions: ["Pure oxygen makes everything burn fiercely"] });
  holdsPins(book, [
    ["count.age", 4, "day", 1e-9, "26 February to 2 March 2026"],
    ["count.slurry_count", 1220, "Mcells/mL", 1e-6, "488 cells / (10 × 0.04 mm² × 0.1 mm) × 1000 × 100"],
    ["count.slurry_alive", 93.24, "%", 0.01, "455 / 488"],
    ["count.chance", 4.53, "%", 0.01, "1/√488"],
    ["pitch.cells_needed", 10259.5, "Gcells", 0.1, "0.85e6 × 1e6 mL × 12.07"],
    ["pitch.slurry_needed", 9.019, "L", 0.001, "1.02595e13 / (1.22e9 × 93.24 %)"],
    ["pitch.slurry_weight", 21.08, "lb", 0.01, "9.019 L × 1.06 kg/L / 0.45359"],
    ["pitch.rate_got", 0.8368, "Mcells/mL/°P", 0.0001, "20.75 lb × 0.45359 / 1.06 × 1.22e9 × 93.24 % / (1e6 × 12.07)"],
    ["pitch.dried_instead", 1026, "g", 1, "1.02595e13 / 1e10 a gram"],
    ["air.by_air", 7.97, "mg/L", 0.02, "Benson and Krause at 18.33 °C: 9.40 mg/L × 97.66/101.325 × 88 %"],
    ["air.run_time", 5.01, "min", 0.02, "9 g / (3 L/min × 1.331 g/L × 45 %), oxygen at 20 °C and 1 atm"],
    ["air.zinc_salt", 0.881, "g", 0.001, "0.2 g / 22.7 %"],
  ]);
});
