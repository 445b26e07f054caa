import { describe, expect, it } from "vitest";
import { BASE_BOOK } from "../../engine/units/book.ts";
import { printUnit } from "../../engine/units/compound.ts";
import { toCoherent } from "../../engine/units/convert.ts";
import { sameDimension } from "../../engine/units/dimension.ts";
import { formatFigure } from "../../engine/units/format.ts";
import { LENSES, type Lens, lensUnit } from "../../engine/units/lens.ts";
import { unitNamed } from "../../engine/units/phrase.ts";
import { LENS_ROWS, MONEY_PER } from "../../engine/units/rows/lenses.ts";
import { unit } from "./support.ts";

/** What a reader sees of a figure through a lens; null: as written. */
function seen(lens: Lens, figure: number, text: string): string | null {
  const written = unit(text);
  const reads = written.is === "scale" ? written.reads : written.dimension;
  const value = toCoherent(figure, written);
  const shown = lensUnit(lens, reads, value, written);
  return shown && `${formatFigure(value, shown.unit, shown.step)} ${printUnit(shown.unit)}`;
}

describe("a lens", () => {
  it.each([
    [640, "L", "640.0 L", "5.45 US bbl", "3.91 UK bbl"],
    [501.5, "mL", "502 mL", "16.96 US fl oz", "17.65 imp fl oz"],
    [0, "kg", "0.00 kg", "0.00 lb", "0.00 lb"],
    [-9.7e-14, "L", "0.0 L", "0.00 US fl oz", "0.00 imp pt"],
    [35.5, "inch", "90.2 cm", "35.50 inch", "35.50 inch"],
    [1200, "ft", "365.76 m", "1200.0 ft", "1200.0 ft"],
    [30, "hL", "30.00 hL", "25.57 US bbl", "18.33 UK bbl"],
    [212.5, "kg", "212.5 kg", "468.5 lb", "468.5 lb"],
    [61, "°F", "16.1 °C", "61.0 °F", "61.0 °F"],
    [5, "Δ°C", "5.0 Δ°C", "9.0 Δ°F", "9.0 Δ°F"],
    [12.1, "°P", "12.10 °P", "12.10 °P", "1.0488 SG"],
    [-2, "Δ°P", "-2.00 Δ°P", "-2.00 Δ°P", "-2.00 Δ°P"],
    [1, "bar", "1.00 bar", "14.5 psi", "14.5 psi"],
    [-0.2, "bar", "-0.20 bar", "-2.9 psi", "-2.9 psi"],
    [1013.25, "mbara", "1.013 bara", "14.70 psia", "14.70 psia"],
    [3, "L/kg", "3.00 L/kg", "1.44 US qt/lb", "1.20 imp qt/lb"],
    [300, "g/hL", "300.0 g/hL", "12.42 oz/US bbl", "1.08 lb/UK bbl"],
    [1048, "kg/m³", "1048.0 kg/m³", "8.746 lb/US gal", "10.503 lb/imp gal"],
    [4.2, "kJ/kg/K", "4.200 kJ/kg/K", "1.003 Btu/lb/°F", "1.003 Btu/lb/°F"],
    [20, "L/min", "20.0 L/min", "5.28 US gal/min", "4.40 imp gal/min"],
    [2.4, "CAD/kg", "2.40 CAD/kg", "1.09 CAD/lb", "1.09 CAD/lb"],
    [1, "CAD/L", "100.00 CAD/hL", "117.35 CAD/US bbl", "163.66 CAD/UK bbl"],
    [10, "SRM", "19.7 EBC", "10.0 SRM", "19.7 EBC"],
    [40, "°L", "105.2 EBC", "53.4 SRM", "105.2 EBC"],
  ])("shows %d %s as %s, %s or %s", (figure, text, metric, us, imperial) => {
    expect([seen("metric", figure, text), seen("US", figure, text), seen("imperial", figure, text)]).toEqual([
      metric,
      us,
      imperial,
    ]);
  });

  // What a step is in another unit: 1 oz is 28.3495 g, 1 US fl oz 29.5735 mL, 1 US gal 3.785412 L, 1 US bbl 117.348 L, 1 psi 0.068948 bar.
  it.each<readonly [Lens, number, string, number, string, string]>([
    ["US", 867.5, "g", 0.1, "30.600 oz", "0.001 oz is 0.03 g; 0.01 lb would be 4.5 g"],
    ["US", 352.2, "g", 0.1, "12.423 oz", "0.01 oz would be 0.28 g"],
    ["US", 352.2, "g", 1, "12.42 oz", "0.01 oz is 0.28 g"],
    ["US", 501.5, "mL", 0.1, "16.958 US fl oz", "0.01 US fl oz would be 0.3 mL"],
    ["US", 481.5, "L", 0.1, "127.20 US gal", "0.01 US gal is 0.04 L; 0.01 US bbl would be 1.2 L"],
    ["US", 790, "L", 1, "6.732 US bbl", "0.001 US bbl is 0.12 L"],
    ["imperial", 481.5, "L", 0.1, "105.92 imp gal", "0.01 imp gal is 0.05 L; 0.01 UK bbl would be 1.6 L"],
    ["metric", 10.2, "psi", 0.1, "0.703 bar", "0.01 bar would be 0.15 psi"],
    ["US", 212.5, "kg", 0.1, "468.5 lb", "0.1 lb is 0.05 kg"],
    ["imperial", 0, "°P", 0.01, "1.00000 SG", "water; 0.0001 SG would be 0.025 °P"],
    ["imperial", 10, "°P", 0.1, "1.0400 SG", "NBS C440; 0.0001 SG is 0.025 °P"],
    ["metric", 1.0489, "SG", 0.0005, "12.12 °P", "0.01 °P is 0.00004 SG"],
    ["metric", 68, "°F", 1, "20.0 °C", "0.1 °C is 0.18 °F"],
  ])("%s shows %d %s by %d as %s: %s", (lens, figure, text, step, shown) => {
    const written = unit(text);
    const reads = written.is === "scale" ? written.reads : written.dimension;
    const value = toCoherent(figure, written);
    const decimals = String(step).split(".")[1]?.length ?? 0;
    const found = lensUnit(lens, reads, value, written, { figure: step, decimals });
    expect(found && `${formatFigure(value, found.unit, found.step)} ${printUnit(found.unit)}`).toBe(shown);
  });

  it.each([
    [50, "mg/L"],
    [50, "ppm"],
    [50, "µg/L"],
    [90, "min"],
    [25, "IBU"],
    [1e6, "cells/mL"],
    [5, "% vol"],
    [2.5, "vol"],
    [5.3, "pH"],
    [72, "%"],
    [100, "CAD"],
    [12, "°dH"],
  ])("leaves %d %s as written", (figure, text) => {
    for (const lens of LENSES) expect(seen(lens, figure, text)).toBeNull();
  });

  it("that shows as written leaves everything alone", () => {
    for (const text of ["L", "kg", "°C", "°P"]) expect(seen("as-written", 1, text)).toBeNull();
  });

  it("has a row of its own for each kind, with units of that kind and sizes in order", () => {
    for (const rows of [LENS_ROWS, MONEY_PER]) {
      const kinds = rows.map(({ of }) => (typeof of === "string" ? of : of.key));
      expect(new Set(kinds).size).toBe(kinds.length);
      for (const row of rows) {
        for (const sizes of [row.metric, row.US, row.imperial]) {
          expect(sizes.map(([below]) => below)).toEqual([...sizes.map(([below]) => below)].sort((a, b) => a - b));
          expect(sizes[sizes.length - 1]?.[0]).toBe(Number.POSITIVE_INFINITY);
          for (const [, text] of sizes) {
            const shown = unitNamed(text, BASE_BOOK);
            if (typeof row.of === "string") expect(shown).toMatchObject({ is: "scale", reads: row.of });
            else expect(shown.is === "compound" && sameDimension(shown.dimension, row.of), text).toBe(true);
          }
        }
      }
    }
  });
});
