/** A line or table as it is drawn. */
interface Line extends HTMLElement {
  readonly name: string;
}

const linesIn = (root: ShadowRoot): readonly Line[] => [
  ...(root.querySelector("gyle-sheet, gyle-front")?.shadowRoot?.querySelectorAll<Line>("[data-line]") ?? []),
];

const painted = (): Promise<unknown> => new Promise((then) => requestAnimationFrame(() => setTimeout(then)));

/**
 * A line that is drawn anew, moved or deleted takes the focus with it. Called before a change of the book is drawn, this
 * puts a focus that was lost by it on the line `inHand`, or on the one that stands in its place now.
 */
export const holdFocus = async (root: ShadowRoot, inHand: string | null): Promise<void> => {
  if (root.activeElement === null || inHand === null) return;
  const isInHand = ({ name }: Line): boolean => inHand === name || inHand.startsWith(`${name}.`);
  const at = linesIn(root).findIndex(isInHand);
  if (at < 0) return;
  await painted();
  if (document.activeElement !== document.body) return;
  const lines = linesIn(root);
  const line = lines.find(isInHand) ?? lines[at] ?? lines.at(-1);
  line?.focus({ preventScroll: true });
};
