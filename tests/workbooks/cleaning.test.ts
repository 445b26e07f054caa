import { describe } from "vitest";
import { holdsPins, standsWell } from "./shipped.ts";

describe("cleaning", () => {
  const book = standsWell("cleaning", { blanks: [], cautions: ["Acid and caustic burn skin and blind eyes"] });
  holdsPins(book, [
    ["caustic.lye_for", 3.2, "L", 0.001, "120 L × 1.02 × 2 % / 50 % / 1.53"],
    ["caustic.if_by_volume", 2.4, "L", 0.001, "2 % of 120 L"],
    ["caustic.before", 20.6, "g/L", 0.01, "10.3 mL × 0.5 Eq/L × 39.997 g / 10 mL"],
    ["caustic.after", 17.8, "g/L", 0.01, "8.9 mL × 0.5 Eq/L × 39.997 g / 10 mL"],
    ["caustic.top_up", 0.419, "L", 0.002, "120 × (20.4 − 17.8) / (765 − 20.4)"],
    ["acid.acid_for", 1, "L", 1e-6, "1 % of 100 L"],
    ["acid.peracetic_for", 255.8, "mL", 0.1, "25 × 3.7854 L × 0.150 g/L / 5 % / 1.11 g/mL"],
    ["flow.flow_wanted", 108.4, "L/min", 0.1, "π × 1.15 m × 30 L/min/m"],
    ["flow.scour", 85.6, "L/min", 0.1, "π/4 × 0.0348² × 1.5 × 60 000"],
    ["flow.rinses", 4, "", 0, "ln(20/20 600) / ln(6/46) = 3.4, rounded up"],
    ["flow.left", 0.0289, "%", 0.0001, "(6/46)⁴"],
    ["log.worked", 2.25, "h", 1e-6, "40 + 10 + 30 + 18 + 15 + 7 + 15 min"],
    ["log.water", 554.6, "L", 0.1, "120 + 100 + 94.6 + 6 × 40"],
  ]);
});
