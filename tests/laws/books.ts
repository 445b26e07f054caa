/** The workbook that random edits begin from: every kind of line, and names that an object of the program might have. */
export const START = `gylebook 1
library 1
title "Amber ale"
batch_date = ? 2026-03-01
gal means US gal
unit sack = 25 kg
function share(part, whole) = part / whole as %
function twice(x) = 2 * x

sheet mash "Mash"
> Strike water scalds.
grain "Malt in" = 8.5 sack     # eight full
water = 640 L
temp_in = ? 61 °F
ratio = water / grain as L/kg
measured = ? °C within 65 to 68 °C
gap = ? kg
known = first_known(gap, grain)
heavy = if grain > 100 kg then grain * 2 else gap
vessel = "kettle" within "kettle", "stand"
constructor = twice(grain)

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
    2026-03-04T08:20, 7.4,
  end
latest = last(readings.gravity)
mean_change = mean(change(readings.gravity)) as Δ°P by 0.01
cool = mean(readings.temp where gravity < 11 °P)
section "Packing"
kegs = round_up(mash.water, 50 L)
plot "Fermentation"
  across readings.taken
  line readings.gravity
`;
