/** The file that the language reference begins with. */
export const SAMPLE = `gylebook 1
library 1
title "Amber ale, batch 214"
lens as-written
batch_date = ? 2026-03-01

unit sack = 25 kg

function share(part, whole) = part / whole as %

sheet mash "Mash"
> Heat the strike water before milling. Strike water scalds: close valves before uncoupling a hose.

grain "Malt in" = 8.5 sack     # eight full, one half
strike_water = 640 L
grain_temp = ? 61 °F     # store is cold this week
rest_target = 66.5 °C
strike_temp = strike_temperature(rest: rest_target, grain: grain, water: strike_water, grain_temp: grain_temp) as °F by 1
mash_ratio = strike_water / grain as L/kg
rest_measured = ? °C within 65 to 68 °C     # read after ten minutes

sheet cellar "Cellar"
original = 12.1 °P

table readings "Daily readings"
  column taken : instant
  column gravity : °P by 0.1
  column temp : °C
  column gone = share(original - gravity, original)
  rows
    2026-03-02T08:15, 12.1, 17.8
    2026-03-03T08:05, 1.0415 SG, 64.9 °F
    2026-03-04T08:20, 7.4, 18.6
  end

latest = last(readings.gravity)
mean_change = mean(change(readings.gravity)) as Δ°P by 0.01

plot "Fermentation"
  across readings.taken
  line readings.gravity
  line readings.temp
`;
