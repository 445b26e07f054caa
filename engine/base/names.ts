/** Names are compared in NFC without case: this is the form that is compared and used as a key. */
export function nameKey(name: string): string {
  for (let at = 0; at < name.length; at += 1)
    if (name.charCodeAt(at) > 127) return name.normalize("NFC").toLowerCase().normalize("NFC");
  return name.toLowerCase();
}

const NAME = /^\p{L}[\p{L}\p{M}\p{Nd}_]*$/u;

/** Whether `text` may be a name: a letter, then letters (with their marks), digits and `_`, in any script. */
export const isName = (text: string): boolean => NAME.test(text);

/** A label made from a name: `mash_ratio` is "Mash ratio". */
export function labelFromName(name: string): string {
  const words = name.replaceAll("_", " ").trim();
  const first = [...words][0] ?? "";
  return first.toLocaleUpperCase("en") + words.slice(first.length);
}

/** A name made from a typed label: "Mash ratio (L/kg)" is `mash_ratio_l_kg`; empty when the label holds no letter. */
export function nameFromLabel(label: string): string {
  const words = label
    .normalize("NFC")
    .toLocaleLowerCase("en")
    .split(/[^\p{L}\p{M}\p{Nd}]+/u)
    .filter(Boolean);
  return words.join("_").replace(/^[^\p{L}]+/u, "");
}
