import { html, type TemplateResult } from "lit";
import { whole } from "./whole.ts";

/** A sentence of the library's: the names in it, which stand between grave accents, as they are typed. */
export const named = (text: string): readonly (ReturnType<typeof whole> | TemplateResult)[] =>
  // Every second part is a name.
  text.split("`").map((part, at) => (at % 2 === 0 ? whole(part) : html`<code>${part}</code>`));
