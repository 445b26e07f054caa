import type { ShownUnit } from "./unit.ts";

/** Coherent value of a figure in `unit`; a missing figure (NaN) stays missing. */
export const toCoherent = (figure: number, unit: ShownUnit): number =>
  unit.is === "scale" ? unit.toCoherent(figure) : figure * unit.factor;

/** The figure in `unit` of a coherent value. */
export const fromCoherent = (value: number, unit: ShownUnit): number =>
  unit.is === "scale" ? unit.fromCoherent(value) : value / unit.factor;

/** Float64 carries fifteen decimal digits through there and back; what lies beyond them is noise of the conversion. */
const DIGITS = 15;

/** The figure without the noise of a conversion, so that 12.1 °P comes back as 12.1. For figures that people or files read. */
export const cleanFigure = (figure: number): number => Number(figure.toPrecision(DIGITS));

/** Coherent values of a column of figures in `unit`, in a new array. */
export function columnToCoherent(figures: Float64Array, unit: ShownUnit): Float64Array {
  const values = new Float64Array(figures.length);
  if (unit.is === "compound") {
    const { factor } = unit;
    for (let row = 0; row < values.length; row += 1) values[row] = (figures[row] as number) * factor;
  } else if (unit.line) {
    const { origin, size, per } = unit.line;
    const { length } = values;
    let row = 0;
    // Four to a turn, for so short a sum takes no longer than a turn by itself; then the rest.
    for (const last = length - (length % 4); row < last; row += 4) {
      values[row] = (((figures[row] as number) - origin) * size) / per;
      values[row + 1] = (((figures[row + 1] as number) - origin) * size) / per;
      values[row + 2] = (((figures[row + 2] as number) - origin) * size) / per;
      values[row + 3] = (((figures[row + 3] as number) - origin) * size) / per;
    }
    for (; row < length; row += 1) values[row] = (((figures[row] as number) - origin) * size) / per;
  } else for (let row = 0; row < values.length; row += 1) values[row] = unit.toCoherent(figures[row] as number);
  return values;
}

/** The figures in `unit` of a column of coherent values, in a new array. */
export function columnFromCoherent(values: Float64Array, unit: ShownUnit): Float64Array {
  const figures = new Float64Array(values.length);
  if (unit.is === "compound") {
    const { factor } = unit;
    for (let row = 0; row < figures.length; row += 1) figures[row] = (values[row] as number) / factor;
  } else if (unit.line) {
    const { origin, size, per } = unit.line;
    for (let row = 0; row < figures.length; row += 1) figures[row] = ((values[row] as number) * per) / size + origin;
  } else for (let row = 0; row < figures.length; row += 1) figures[row] = unit.fromCoherent(values[row] as number);
  return figures;
}
