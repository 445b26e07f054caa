/**
 * Spellings in a tree of characters, for finding the longest one at a place in a text. Characters that keyboards and
 * fonts confuse count as one (`µ` and `μ`, `º` and `°`, `∆` and `Δ`), and a run of blanks counts as one blank.
 */
export interface SpellingNode<T> {
  readonly next: Map<number, SpellingNode<T>>;
  /** What is spelt by the path to here; null: nothing ends here. */
  entry: T | null;
}

const SPACE = 0x20;

/** The character that stands for `code` in spellings. */
function standing(code: number): number {
  if (code < 0x80) return code === 9 ? SPACE : code;
  switch (code) {
    case 0xa0: // no-break space
    case 0x2009: // thin space
    case 0x202f: // narrow no-break space
      return SPACE;
    case 0xba: // masculine ordinal º
    case 0x2da: // ring above ˚
      return 0xb0; // degree °
    case 0x3bc: // Greek mu μ
      return 0xb5; // micro µ
    case 0x2206: // increment ∆
      return 0x394; // Greek delta Δ
    case 0x212a: // kelvin sign
      return 0x4b; // K
    default:
      return code;
  }
}

export const emptySpellings = <T>(): SpellingNode<T> => ({ next: new Map(), entry: null });

/** Adds a spelling; false, and nothing added, when it is already there. */
export function addSpelling<T>(root: SpellingNode<T>, spelling: string, entry: T): boolean {
  let node = root;
  for (let at = 0; at < spelling.length; at += 1) {
    const code = standing(spelling.charCodeAt(at));
    let next = node.next.get(code);
    if (!next) {
      next = emptySpellings();
      node.next.set(code, next);
    }
    node = next;
  }
  if (node.entry !== null) return false;
  node.entry = entry;
  return true;
}

const OTHER_WORD_CHARACTER = /[\p{L}\p{M}\p{Nd}]/u;

/** Whether a name or word may go on with this character; superscripts and operators do not. */
function continuesWord(text: string, at: number): boolean {
  if (at >= text.length) return false;
  const code = text.charCodeAt(at);
  if (code < 0x80)
    return (code >= 97 && code <= 122) || (code >= 65 && code <= 90) || (code >= 48 && code <= 57) || code === 95;
  return OTHER_WORD_CHARACTER.test(String.fromCodePoint(text.codePointAt(at) ?? 0));
}

/**
 * The end of the longest spelling that starts at `at`, or -1. It never ends inside a word: after a letter or digit no
 * other may follow; a sign such as `%` or `℃` ends anywhere.
 */
export function spellingEnd<T>(root: SpellingNode<T>, text: string, at: number): number {
  let node: SpellingNode<T> | undefined = root.next.get(standing(text.charCodeAt(at)));
  let here = at;
  let end = -1;
  while (node) {
    const isSpace = standing(text.charCodeAt(here)) === SPACE;
    here += 1;
    while (isSpace && standing(text.charCodeAt(here)) === SPACE) here += 1;
    if (node.entry !== null && !(continuesWord(text, here) && continuesWord(text, here - 1))) end = here;
    node = here < text.length ? node.next.get(standing(text.charCodeAt(here))) : undefined;
  }
  return end;
}

/** What `spelling` as a whole spells, or null. */
export function spelt<T>(root: SpellingNode<T>, spelling: string): T | null {
  let node: SpellingNode<T> | undefined = root;
  let before = 0;
  for (let at = 0; node && at < spelling.length; at += 1) {
    const code = standing(spelling.charCodeAt(at));
    if (code !== SPACE || before !== SPACE) node = node.next.get(code);
    before = code;
  }
  return node?.entry ?? null;
}
