import "../../components/look/page.css";
import { expect } from "vitest";

const FACES = ['400 16px "Source Sans 3 Variable"', '400 16px "Source Code Pro Variable"'];

/** Loads the faces that the page is set in: how wide a text is hangs on them. */
export const loadFaces = async (): Promise<void> => {
  const loaded = await Promise.all(FACES.map((face) => document.fonts.load(face)));
  expect(loaded.map(({ length }) => length)).toEqual(FACES.map(() => 1));
};
