/*
 * Text that looks like other text. Files come from other people: a name must be what it looks like, and a text must not
 * turn round what stands beside it (Unicode Technical Reports 36 and 39 describe both tricks).
 */

const INVISIBLE = /\p{Default_Ignorable_Code_Point}/u;
const LATIN = /\p{Script=Latin}/u;
/** Cyrillic, and the Greek letters that have the shape of Latin ones; Δ, α, β, µ and their like are no doubles. */
const LATIN_LOOKALIKES = /[\p{Script=Cyrillic}ΑΒΕΖΗΙΚΜΝΟΡΤΥΧικνορυχ]/u;
/** What parts a name into words: `объём_L` is two, each in one script. */
const WORDS = /[_\p{Nd}]+/u;

/** Why a name may be taken for another one, as the end of a sentence; null: it may not. */
export function deceives(name: string): string | null {
  if (INVISIBLE.test(name)) return "it holds a character that cannot be seen.";
  const mixed = name.split(WORDS).some((word) => LATIN.test(word) && LATIN_LOOKALIKES.test(word));
  return mixed ? "it mixes Latin letters with Cyrillic or Greek ones that look the same." : null;
}

/** Embeddings, overrides and isolates: they turn the order of what is shown. Marks that single letters need are none of these. */
const TURNING = /[\u202a-\u202e\u2066-\u2069]/g;

/** A text as it is safe to show: characters that would turn its order are written out, `⟨U+202E⟩`. */
export const visible = (text: string): string =>
  text.replace(TURNING, (character) => `⟨U+${character.charCodeAt(0).toString(16).toUpperCase()}⟩`);
