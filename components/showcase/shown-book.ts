/** A small book with every state in it, for the page that shows the components. */
export const SHOWN_BOOK = `gylebook 1
library 1
title "Amber ale, batch 214"
batch_date = ? 2026-03-01

unit sack = 25 kg
function share(part, whole) = part / whole as %
gal means US gal

sheet mash "Mash"
> Heat the strike water before milling.
section "Malt and water"
grain "Malt in" = 8.5 sack     # eight full, one half
strike_water = 640 L
grain_temp = ? 61 °F
rest_target = 66.5 °C
strike_temp = strike_temperature(rest: rest_target, grain: grain, water: strike_water, grain_temp: grain_temp) as °F by 1
mash_ratio = strike_water / grain as L/kg
section "Rest"
rest_measured = ? °C within 65 to 68 °C     # read after ten minutes
out_of_range "Rest at the end" = ? 70.2 °C within 65 to 68 °C
warmer = rest_measured + 1 Δ°C
tun = ? "tun one" within "tun one", "tun two"
bad "Total" = strike_water + grain
worse = bad * 2

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
    2026-03-04T08:20, , 18.6
    2026-03-05T08:10, 6.2, warm
    2026-03-06T08:20, 4.4, 18.9
  end

latest = last(readings.gravity)
mean_change = mean(change(readings.gravity)) as Δ°P by 0.01

plot "Fermentation"
  across readings.taken
  line readings.gravity
  line readings.temp

table probe "By the probe"
  column taken : instant
  column gravity : °P by 0.1
  column temp : °C by 0.1
  rows
    2026-03-07T08:00, 4.0, 18.9
    2026-03-07T09:00, 3.9, 18.8
    2026-03-07T10:00, 3.8, 19.0
    2026-03-07T11:00, 3.7, 85.0
    2026-03-07T12:00, 3.6, 18.9
    2026-03-07T19:00, 3.2, 18.6
    2026-03-07T20:00, 3.1, 18.5
    2026-03-07T21:00, 3.1, 18.4
  end

plot "By the probe"
  across probe.taken
  line probe.gravity
  line probe.temp
`;

/** What each shown CSV shows, the table that it is read into (empty: a new one), and its rows. */
export const SHOWN_CSVS: Readonly<Record<string, { readonly table: string; readonly csv: string | null }>> = {
  "No file yet": { table: "cellar.readings", csv: null },
  "Corrections and rejects": {
    table: "cellar.readings",
    csv: "Taken;Gravity (°P);Temp (°F)\n2026-03-02 08:15;12,1;64,04\n2026-03-03 08:05;10,2;64,9\n2026-03-07 08:10;3,2;65,5\n2026-03-08 08:10;foam;65,5\n",
  },
  Questions: {
    table: "cellar.readings",
    csv: "Taken,Gravity,Temp\n03/04/2026 08:00,12,18.2\n04/04/2026 08:00,10,18.4\n",
  },
  "A new table": {
    table: "",
    csv: "Time,Tank,Pressure (psi)\n2026-03-02 08:00,FV2,11.2\n2026-03-02 09:00,FV2,11.4\n",
  },
  "No table at all": { table: "cellar.readings", csv: "\0".repeat(600) },
};
