import { invariant } from "../../engine/base/invariant.ts";
import { Model } from "../../engine/workbook/model.ts";
import { openWorkbook } from "../../engine/workbook/open.ts";
import { language } from "../support/language.ts";

/** A workbook's text, opened and worked out. */
export function modelOf(text: string): Model {
  const opened = openWorkbook(text, language);
  invariant(opened.ok, "the workbook opens");
  return new Model(opened.workbook, language);
}

/** The invented brew day that the tests of assistance speak of. */
export const BREW_DAY = `gylebook 1
library 1
title "Amber ale"
batch_date = ? 2026-03-01
unit sack = 25 kg
function share(part, whole) = part / whole as %

sheet mash "Mash"
grain "Malt in" = 8.5 sack     # eight full, one half
strike_water = 640 L
grain_temp = ? 61 °F     # store is cold this week
rest_target = 66.5 °C
strike_temp = strike_temperature(rest: rest_target, grain: grain, water: strike_water, grain_temp: grain_temp) as °F by 1
mash_ratio = strike_water / grain as L/kg
rest_measured = ? °C within 65 to 68 °C     # read after ten minutes
rest_miss = rest_measured - rest_target
vessel = ? text within "kettle", "stand"
ready_at = ? instant
milled = ? truth
sacks = ? number
pressure = ? psi
runoff = ? L
malt_bill = ? 12 lb 4 oz
wrong = grain + strike_water
after_wrong = wrong * 2

sheet cellar "Cellar"
original = 12.1 °P
opening = ? SG
points = ? GU
table readings "Daily readings"
  column taken : instant
  column gravity : °P by 0.1
  column temp : °C
  column gone = share(original - gravity, original)
  column reader "Read by" : text
  rows
    2026-03-02T08:15, 12.1, 17.8, Ash
    2026-03-03T08:05, 1.0415 SG, 64.9 °F, Ash
    2026-03-04T08:20, 7.4, 18.6, Rowan
  end

latest = last(readings.gravity)
mean_change = mean(change(readings.gravity)) as Δ°P by 0.01
cool = mean(readings.temp where gravity < 11 °P)
dear = if latest < 8 °P then round_up(mash.grain, 25 kg) else mash.grain
`;
