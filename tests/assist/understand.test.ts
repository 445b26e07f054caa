import { describe, expect, test } from "vitest";
import { understand } from "../../engine/assist/understand.ts";
import { understandNew } from "../../engine/assist/understand-new.ts";
import type { Lens } from "../../engine/units/lens.ts";
import { BREW_DAY, modelOf } from "./book.ts";

const model = modelOf(BREW_DAY);

/** What a field made of it on one line: `formula | says`, `no | says`, `ask | formula (label) | …`. */
function told(name: string, typed: string, lens: Lens = "as-written", column?: string): string {
  const answer = understand(model, lens, name, typed, column);
  if ("ask" in answer)
    return ["ask", ...answer.choices.map(({ formula, label }) => `${formula} (${label})`)].join(" | ");
  return answer.ok ? `${answer.formula} | ${answer.says}` : `no | ${answer.says}`;
}

const REST = "within 65 to 68 °C     # read after ten minutes";

describe("a field of a line", () => {
  test.for<[name: string, typed: string, told: string]>([
    // Shorthand of figures and units. 152 °F is (152 − 32) · 5/9 = 66.67 °C.
    ["mash.rest_measured", "66.5", `? 66.5 °C ${REST} | 66.5 °C`],
    ["mash.rest_measured", " 66,7 ", `? 66.7 °C ${REST} | 66.7 °C`],
    ["mash.rest_measured", "152F", `? 152 °F ${REST} | 152 °F (66.7 °C)`],
    ["mash.rest_measured", "152 f", `? 152 °F ${REST} | 152 °F (66.7 °C)`],
    ["mash.rest_measured", "152 deg F", `? 152 °F ${REST} | 152 °F (66.7 °C)`],
    ["mash.rest_measured", "66.50 ℃", `? 66.50 °C ${REST} | 66.50 °C`],
    ["mash.rest_measured", "72", `? 72 °C ${REST} | 72 °C. 72 °C is outside 65 °C to 68 °C.`],
    ["mash.rest_measured", "", `? °C ${REST} | nothing yet`],
    ["mash.grain_temp", "61,5", "? 61.5 °F     # store is cold this week | 61.5 °F"],
    ["mash.grain_temp", "-3", "? -3 °F     # store is cold this week | -3 °F"],
    ["mash.grain_temp", "16 c", "? 16 °C     # store is cold this week | 16 °C (60.8 °F)"],
    ["mash.grain_temp", "", "? °F     # store is cold this week | nothing yet"],
    ["mash.grain", "9", "9 sack     # eight full, one half | 9 sack"],
    ["mash.grain", "212.5kg", "212.5 kg     # eight full, one half | 212.5 kg (8.5 sack)"],
    ["mash.strike_water", "640", "640 L | 640 L"],
    ["mash.strike_water", "6.4 HL", "6.4 hL | 6.4 hL (640 L)"],
    ["mash.strike_water", "1 250", "1250 L | 1250 L"],
    ["mash.strike_water", "1,250.5", "1250.5 L | 1250.5 L"],
    ["mash.strike_water", "1.250,5", "1250.5 L | 1250.5 L"],
    ["mash.strike_water", "0,250", "0.250 L | 0.250 L"],
    ["mash.strike_water", "1,250", "ask | 1250 L (1250 L) | 1.250 L (1.250 L)"],
    ["mash.strike_water", "170 gal", "ask | 170 US gal (170 US gal (643.5 L)) | 170 imp gal (170 imp gal (772.8 L))"],
    ["mash.strike_water", "16 oz", "ask | 16 US fl oz (16 US fl oz (0.473 L)) | 16 imp fl oz (16 imp fl oz (0.455 L))"],
    ["mash.malt_bill", "12 lb 4 oz", "? 12 lb 4 oz | 12 lb 4 oz"],
    ["mash.malt_bill", "12lb4oz", "? 12 lb 4 oz | 12 lb 4 oz"],
    ["mash.malt_bill", "12 LB 4,5 Oz", "? 12 lb 4.5 oz | 12 lb 4.5 oz"],
    ["mash.malt_bill", "12.25", "? 12.25 lb | 12.25 lb"],
    ["mash.malt_bill", "", "? lb | nothing yet"],
    ["mash.pressure", "12 PSI", "? 12 psi | 12 psi"],
    ["mash.sacks", "4", "? 4 | 4"],
    ["mash.sacks", "", "? | nothing yet"],
    // Gravity: 12.1 °P and 1.048 SG by NBS Circular C440, Table 114 (12 °P is 1.0484).
    ["cellar.original", "1048", "1.048 SG | 1.048 SG (11.91 °P)"],
    ["cellar.original", "1048.5", "1.0485 SG | 1.0485 SG (12.03 °P)"],
    ["cellar.original", "1,048", "ask | 1.048 SG (1.048 SG (11.91 °P)) | 1.048 °P (1.048 °P)"],
    ["cellar.original", "11,8", "11.8 °P | 11.8 °P"],
    ["cellar.original", "48", "ask | 1.048 SG (1.048 SG (11.91 °P)) | 48 °P (48 °P)"],
    ["cellar.original", "12p", "12 °P | 12 °P"],
    ["cellar.opening", "1048", "? 1.048 SG | 1.048 SG"],
    ["cellar.opening", "1048 sg", "? 1.048 SG | 1.048 SG"],
    ["cellar.opening", "1.048", "? 1.048 SG | 1.048 SG"],
    ["cellar.opening", "1,048", "? 1.048 SG | 1.048 SG"],
    ["cellar.opening", "48", "ask | ? 1.048 SG (1.048 SG) | ? 48 °P (48 °P (1.2215 SG))"],
    ["cellar.opening", "998", "? 0.998 SG | 0.998 SG"],
    ["cellar.points", "48", "? 48 GU | 48 GU"],
    ["cellar.points", "1048", "? 1.048 SG | 1.048 SG (48 GU)"],
    // The country behind the unit, the unit behind in, a range.
    ["mash.strike_water", "170 gal US", "170 US gal | 170 US gal (643.5 L)"],
    ["mash.strike_water", "170 gallons (imperial)", "170 imp gal | 170 imp gal (772.8 L)"],
    ["mash.strike_water", "1,5 bbl UK", "1.5 UK bbl | 1.5 UK bbl (245.5 L)"],
    ["mash.strike_water", "170 gal DE", 'no | "gal DE" is not a unit that is known here. This takes a volume (L).'],
    ["mash.rest_measured", "66 in °C", `? 66 °C ${REST} | 66 °C`],
    ["mash.rest_measured", "66 in C", `? 66 °C ${REST} | 66 °C`],
    ["mash.rest_measured", "152F in C", `? 152 °F ${REST} | 152 °F (66.7 °C)`],
    ["mash.rest_measured", "65-68 °C", `ask | ? 65 °C ${REST} (65 °C) | ? 68 °C ${REST} (68 °C)`],
    ["mash.rest_measured", "65 – 68", `ask | ? 65 °C ${REST} (65 °C) | ? 68 °C ${REST} (68 °C)`],
    ["mash.strike_water", "600 to 640 L", "ask | 600 L (600 L) | 640 L (640 L)"],
    ["mash.sacks", "2026-03-02", 'no | "-03-02" is not a unit that is known here. This takes a number.'],
    // Texts, truths and instants.
    ["mash.vessel", "Kettle", '? "kettle" within "kettle", "stand" | kettle'],
    ["mash.vessel", '"stand"', '? "stand" within "kettle", "stand" | stand'],
    ["mash.vessel", "", '? text within "kettle", "stand" | nothing yet'],
    ["mash.milled", "Y", "? yes | yes"],
    ["mash.ready_at", "8:15", "? 2026-03-01T08:15 | 2026-03-01 08:15"],
    ["mash.ready_at", "8.15", "? 2026-03-01T08:15 | 2026-03-01 08:15"],
    ["mash.ready_at", "8:15 pm", "? 2026-03-01T20:15 | 2026-03-01 20:15"],
    ["mash.ready_at", "0815", "? 2026-03-01T08:15 | 2026-03-01 08:15"],
    ["mash.ready_at", "815", "? 2026-03-01T08:15 | 2026-03-01 08:15"],
    ["mash.ready_at", "2115", "? 2026-03-01T21:15 | 2026-03-01 21:15"],
    ["mash.ready_at", "2026", 'no | "2026" could be a year. For the time write 20:26.'],
    ["mash.ready_at", "0815 pm", "? 2026-03-01T20:15 | 2026-03-01 20:15"],
    ["mash.ready_at", "2026-03-02 0815", "? 2026-03-02T08:15 | 2026-03-02 08:15"],
    ["mash.ready_at", "2026-03-02 08:15", "? 2026-03-02T08:15 | 2026-03-02 08:15"],
    ["mash.ready_at", "2026-3-2", "? 2026-03-02 | 2026-03-02"],
    ["mash.ready_at", "2026/3/2", "? 2026-03-02 | 2026-03-02"],
    ["mash.ready_at", "2.3.2026 8:15", "? 2026-03-02T08:15 | 2026-03-02 08:15"],
    ["mash.ready_at", "13/3/2026", "? 2026-03-13 | 2026-03-13"],
    ["mash.ready_at", "March 2, 2026", "? 2026-03-02 | 2026-03-02"],
    ["mash.ready_at", "2nd Mar 2026, 8:15 pm", "? 2026-03-02T20:15 | 2026-03-02 20:15"],
    ["mash.ready_at", "2 march 2026 0815", "? 2026-03-02T08:15 | 2026-03-02 08:15"],
    ["mash.ready_at", "30 Feb 2026", 'no | "30 Feb 2026" is no date or time. Write it such as 2026-03-02 08:15.'],
    ["mash.ready_at", "March 2", 'no | "March 2" is no date or time. Write it such as 2026-03-02 08:15.'],
    ["mash.ready_at", "03/04/2026", "ask | ? 2026-04-03 (2026-04-03) | ? 2026-03-04 (2026-03-04)"],
    ["batch_date", "2026-03-08", "? 2026-03-08 | 2026-03-08"],
  ])("%s takes %j: %s", ([name, typed, expected]) => {
    expect(told(name, typed)).toBe(expected);
  });

  test.for<[name: string, typed: string, told: string]>([
    ["mash.rest_measured", "warm", '"warm" is no figure. This takes a temperature (°C).'],
    [
      "mash.rest_measured",
      "66.5.1",
      '"66.5.1" is no figure that can be read. Write it with one decimal point, such as 1250.5.',
    ],
    ["mash.rest_measured", "12 kg", "12 kg is a mass; this takes a temperature (°C)."],
    ["mash.rest_measured", "12 lb 4 oz", "12 lb 4 oz is a mass; this takes a temperature (°C)."],
    ["mash.strike_water", "12lb 4 OZ", "12 lb 4 oz is a mass; this takes a volume (L)."],
    ["mash.rest_measured", "1 h 30 min", "1 h 30 min is a time; this takes a temperature (°C)."],
    ["mash.ready_at", "0875", '"0875" is no date or time that the calendar has. Write it such as 2026-03-02 08:15.'],
    ["mash.ready_at", "2460", '"2460" is no date or time that the calendar has. Write it such as 2026-03-02 08:15.'],
    ["mash.strike_water", "152F", "152 °F is a temperature; this takes a volume (L)."],
    ["mash.strike_water", "152 degrees f", "152 °F is a temperature; this takes a volume (L)."],
    ["mash.strike_water", "1,250 KG", "1,250 kg is a mass; this takes a volume (L)."],
    ["mash.strike_water", "5 %", "5 % is a number; this takes a volume (L)."],
    ["mash.strike_water", "12 kgg", '"kgg" is not a unit that is known here. This takes a volume (L).'],
    ["mash.malt_bill", "12 kgg", '"kgg" is not a unit that is known here. Did you mean kg? This takes a mass (lb).'],
    ["mash.strike_water", "", "Type a figure. A line is taken away by its menu."],
    [
      "mash.malt_bill",
      "4 oz 12 lb",
      "Figures in a row go from the larger unit to the smaller, such as 12 lb 4 oz. Write an operator between them otherwise.",
    ],
    ["mash.mash_ratio", "3", "This line is worked out. Open its formula to change it."],
    ["mash.vessel", "bucket", '"bucket" is not one of kettle, stand.'],
    ["mash.milled", "maybe", '"maybe" is neither yes nor no.'],
    [
      "mash.ready_at",
      "2026-02-30",
      '"2026-02-30" is no date or time that the calendar has. Write it such as 2026-03-02 08:15.',
    ],
    ["mash.ready_at", "soon", '"soon" is no date or time. Write it such as 2026-03-02 08:15.'],
    ["cellar.original", "300", '"300" is no gravity: write it such as 1.048 SG or 12 °P.'],
    ["mash.nowhere", "3", 'There is no "mash.nowhere" here any more.'],
  ])("%s refuses %j: %s", ([name, typed, says]) => {
    expect(told(name, typed)).toBe(`no | ${says}`);
  });

  test.for<[typed: string, told: string]>([
    ["36 1/8", "? 36.125 inch | 36.125 inch"],
    ["36 1/8 inch", "? 36.125 inch | 36.125 inch"],
    ["36 1/8 in", "? 36.125 inch | 36.125 inch"],
    ['36 1/8"', "? 36.125 inch | 36.125 inch"],
    ["36⅛", "? 36.125 inch | 36.125 inch"],
    ["3/8", "? 0.375 inch | 0.375 inch"],
    ["1½ ft", "? 1.5 ft | 1.5 ft (18 inch)"],
    [`3' 2 1/2"`, "? 3 ft 2.5 inch | 3 ft 2.5 inch (38.5 inch)"],
    ["3′", "? 3 ft | 3 ft (36 inch)"],
  ])("a dip takes %j: %s", ([typed, expected]) => {
    const dip = modelOf(BREW_DAY.replace("runoff = ? L", "dip = ? inch"));
    const found = understand(dip, "as-written", "mash.dip", typed);
    expect("formula" in found ? `${found.formula} | ${found.says}` : JSON.stringify(found)).toBe(expected);
  });

  test.for<[name: string, typed: string, told: string]>([
    ["mash.malt_bill", "12 1/2 lb", "? 12.5 lb | 12.5 lb"],
    ["mash.malt_bill", "12 lb 4 1/2 oz", "? 12 lb 4.5 oz | 12 lb 4.5 oz"],
    ["mash.sacks", "8½", "? 8.5 | 8.5"],
    ["mash.sacks", "1/3", "? 0.333333 | 0.333333"],
    [
      "mash.sacks",
      "36 1",
      'no | "36 1" is two figures with nothing between. A fraction is typed such as 36 1/8. This takes a number.',
    ],
    ["mash.sacks", "1/0", 'no | "/0" is not a unit that is known here. This takes a number.'],
    ["mash.rest_measured", '66"', `no | """ is not a unit that is known here. This takes a temperature (°C).`],
  ])("%s takes the fraction %j: %s", ([name, typed, expected]) => {
    expect(told(name, typed)).toBe(expected);
  });

  test.for<[line: string, typed: string, told: string]>([
    // Money in the field's own currency; a dollar is one of many.
    ["cost = ? CAD", "$5", "? 5 CAD | 5 CAD"],
    ["cost = ? NZD", "5,50 $", "? 5.50 NZD | 5.50 NZD"],
    ["cost = 3 CAD/kg", "$2.40/kg", "2.40 CAD/kg | 2.40 CAD/kg"],
    ["cost = 3 CAD/kg", "2.40 $/lb", "2.40 CAD/lb | 2.40 CAD/lb (5.29 CAD/kg)"],
    ["cost = ? GBP", "£5", "? 5 GBP | 5 GBP"],
    ["cost = ? GBP", "$5", 'no | "$5" is no figure. This takes money (GBP).'],
    // A length of time from a clock or a stop watch.
    ["cost = ? min", "1:30", "ask | ? 1 h 30 min (1 h 30 min (90 min)) | ? 1 min 30 s (1 min 30 s)"],
    ["cost = ? min", "1:02:30", "? 1 h 2 min 30 s | 1 h 2 min 30 s (62.5 min)"],
  ])("%s takes %j: %s", ([line, typed, expected]) => {
    const found = understand(modelOf(BREW_DAY.replace("runoff = ? L", line)), "as-written", "mash.cost", typed);
    const shown =
      "ask" in found
        ? ["ask", ...found.choices.map(({ formula, label }) => `${formula} (${label})`)].join(" | ")
        : found.ok
          ? `${found.formula} | ${found.says}`
          : `no | ${found.says}`;
    expect(shown).toBe(expected);
  });

  test("what is read is told apart from the sentence that it lies outside", () => {
    expect(understand(model, "as-written", "mash.rest_measured", "72")).toMatchObject({
      reads: "72 °C",
      says: "72 °C. 72 °C is outside 65 °C to 68 °C.",
    });
  });

  test("a time alone is refused while the batch date is open", () => {
    const open = modelOf(BREW_DAY.replace("? 2026-03-01", "? instant"));
    expect(understand(open, "as-written", "mash.ready_at", "8:15")).toMatchObject({ ok: false });
  });
});

describe("under a lens a bare figure takes the unit that the field shows", () => {
  test.for<[name: string, typed: string, lens: Lens, told: string]>([
    ["mash.rest_measured", "152", "US", `? 152 °F ${REST} | 152 °F`],
    ["mash.runoff", "8", "US", "? 8 US gal | 8 US gal"],
    ["mash.runoff", "8", "imperial", "? 8 imp gal | 8 imp gal"],
    // What was typed stands as it was typed, under any lens.
    ["mash.grain_temp", "60", "metric", "? 60 °F     # store is cold this week | 60 °F"],
    ["mash.strike_water", "650", "US", "650 L | 650 L"],
  ])("%s takes %j under %s: %s", ([name, typed, lens, expected]) => {
    expect(told(name, typed, lens)).toBe(expected);
  });
});

describe("an entry of a table", () => {
  test.for<[column: string, typed: string, lens: Lens, told: string]>([
    ["temp", "17,9", "as-written", "17.9 | 17.9 °C"],
    ["temp", "64.9F", "as-written", "64.9 °F | 64.9 °F (18.3 °C)"],
    ["temp", "64.9", "US", "64.9 °F | 64.9 °F"],
    ["temp", "18 C", "US", "18 | 18 °C (64.4 °F)"],
    ["temp", "", "as-written", " | nothing yet"],
    ["gravity", "1041", "as-written", "1.041 SG | 1.041 SG (10.23 °P)"],
    ["gravity", "9.8", "as-written", "9.8 | 9.8 °P"],
    ["taken", "2026-03-05 8:10", "as-written", "2026-03-05T08:10 | 2026-03-05 08:10"],
    ["reader", 'Ash, the "night" one', "as-written", 'Ash, the "night" one | Ash, the "night" one'],
    ["gone", "12", "as-written", "no | This column is worked out. Its formula stands in the header."],
  ])("in column %s, %j under %s: %s", ([column, typed, lens, expected]) => {
    expect(told("cellar.readings", typed, lens, column)).toBe(expected);
  });
});

describe("where a new line is to be made, a figure is taken as in a field", () => {
  const told = (typed: string): string => {
    const answer = understandNew(model, "as-written", { sheet: "mash", cell: null }, typed);
    if (answer === null) return "as it stands";
    if ("ask" in answer) return ["ask", ...answer.choices.map(({ formula }) => formula)].join(" | ");
    return answer.ok ? answer.formula : answer.says;
  };

  test.for<[typed: string, told: string]>([
    ["152F", "152 °F"],
    ["? 152F", "? 152 °F"],
    ["12 C", "12 °C"],
    ["5 ΔF", "5 Δ°F"],
    ["1,5", "1.5"],
    ["12LB 4oz", "12 lb 4 oz"],
    [`6' 2"`, "6 ft 2 inch"],
    ["36 1/8 inch", "36.125 inch"],
    ["pH 5.4", "5.4 pH"],
    ["ph=5,4", "5.4 pH"],
    ["2026/3/2", "2026-03-02"],
    ["March 2, 2026", "2026-03-02"],
    ["1,250", "ask | 1250 | 1.250"],
    ["1,5 gal", "ask | 1.5 US gal | 1.5 imp gal"],
    ["5 MPA", "ask | 5 mPa | 5 MPa"],
    ["03/04/2026", "ask | 2026-04-03 | 2026-03-04"],
    // What is sound, what is no figure, and what is only near to a unit.
    ["640 L", "as it stands"],
    ["strike_water / grain", "as it stands"],
    ["grian", "as it stands"],
    ["12 kgg", "as it stands"],
    ["12 M", "as it stands"],
    ["8:15", "as it stands"],
    ["", "as it stands"],
  ])("%j: %s", ([typed, expected]) => {
    expect(told(typed)).toBe(expected);
  });
});

describe("a time or a day without its year in a log", () => {
  const log = (date: string) =>
    modelOf(`gylebook 1
library 1
batch_date = ${date}
sheet cellar
table log
  column at : instant
  rows
    2026-12-28T08:10
    -
    2026-12-30T08:10
  end
`);
  const told = (date: string, typed: string, row?: number): string => {
    const answer = understand(log(date), "as-written", "cellar.log", typed, "at", row);
    if ("ask" in answer) return ["ask", ...answer.choices.map(({ formula }) => formula)].join(" | ");
    return answer.ok ? `${answer.formula} | ${answer.says}` : `no | ${answer.says}`;
  };

  test.for<[date: string, typed: string, row: number | undefined, told: string]>([
    // The batch date stands for today; where it is not filled, the row above does.
    ["? 2026-12-31", "15:00", 1, "2026-12-31T15:00 | 2026-12-31 15:00"],
    ["? instant", "15:00", undefined, "2026-12-30T15:00 | 2026-12-30 15:00"],
    ["? instant", "15.05", 2, "2026-12-28T15:05 | 2026-12-28 15:05"],
    ["? instant", "1048", 1, "2026-12-28T10:48 | 2026-12-28 10:48"],
    ["? instant", "1048", 0, "no | Type the date too: the batch date, which stands for today, is not filled."],
    // The year is the one that brings the day nearest.
    ["? instant", "22.11. 8:10", undefined, "2026-11-22T08:10 | 2026-11-22 08:10"],
    ["? instant", "2.1. 8:10", undefined, "2027-01-02T08:10 | 2027-01-02 08:10"],
    ["? 2026-01-05", "22.11.", undefined, "2025-11-22 | 2025-11-22"],
    ["? instant", "3/4 0810", undefined, "ask | 2027-04-03T08:10 | 2027-03-04T08:10"],
    ["? instant", "12/25 8:10", undefined, "2026-12-25T08:10 | 2026-12-25 08:10"],
    ["? instant", "22.11. 8:10", 0, "no | Type the year too: the batch date, which stands for today, is not filled."],
    [
      "? instant",
      "31.2. 8:10",
      undefined,
      'no | "31.2. 8:10" is no date or time that the calendar has. Write it such as 2026-03-02 08:15.',
    ],
  ])("batch date %s, %j in row %j: %s", ([date, typed, row, expected]) => {
    expect(told(date, typed, row)).toBe(expected);
  });
});
