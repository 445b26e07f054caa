/** How a line of a plot is drawn: by its stroke and its points it is known without colour too. */
export interface Stroke {
  /** The custom property that holds its colour. */
  readonly colour: string;
  /** Lengths in pixels of dash and gap in turn; none: a whole line. */
  readonly dash: readonly number[];
  /** Its points are filled; else they are rings. */
  readonly filled: boolean;
}

const STROKES: readonly [Stroke, ...Stroke[]] = [
  { colour: "--gyle-accent", dash: [], filled: false },
  { colour: "--gyle-waiting", dash: [8, 4], filled: true },
  { colour: "--gyle-ink", dash: [2, 4], filled: false },
  { colour: "--gyle-fault", dash: [12, 4, 2, 4], filled: true },
];

/** How the line at this place among the lines of a plot is drawn. */
export const strokeOf = (at: number): Stroke => STROKES[at % STROKES.length] ?? STROKES[0];

/** Most points that are also drawn as dots. */
export const DOTTED = 60;
