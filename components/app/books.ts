/** A book that comes with Gylebook. */
export interface ShippedBook {
  /** The file's name without its ending, in the folder that the page is served from. */
  readonly name: string;
  readonly label: string;
  readonly says: string;
}

/** The books in the order of the work; the first opens by default. */
export const SHIPPED_BOOKS: readonly ShippedBook[] = [
  { name: "brew-day", label: "Brew day", says: "malt, strike, runoff, boil, hops, knock-out, losses" },
  { name: "water", label: "Water", says: "source water, salts and acid against a target" },
  { name: "yeast", label: "Yeast", says: "count, viability, pitch, oxygen" },
  { name: "cellar-log", label: "Cellar log", says: "readings, attenuation, when it will be done" },
  { name: "packaging", label: "Packaging", says: "head pressure, priming, weighed packages" },
  { name: "batch-account", label: "Batch account", says: "losses, cost, alcohol for the duty return" },
  { name: "vessels", label: "Vessels", says: "dip-stick tables read both ways" },
  { name: "cleaning", label: "Cleaning", says: "concentrates and rinses" },
];

/** The text of a shipped book; throws a sentence when it cannot be had. */
export const readShippedBook = async (name: string): Promise<string> => {
  const answer = await fetch(new URL(`${encodeURIComponent(name)}.gyle`, document.baseURI)).catch(() => null);
  if (answer === null || !answer.ok)
    throw new Error(
      `The book ${name} could not be fetched. Without a network only books that were opened before can be read.`,
    );
  return answer.text();
};

/** A book from nothing: one sheet to begin on. */
export const EMPTY_BOOK = 'gylebook 1\nlibrary 1\ntitle "New book"\n\nsheet first "First sheet"\n';
