import { html, type TemplateResult } from "lit";
import { whole } from "./whole.ts";

/** A name of the language: between grave accents, or of several words joined by underlines. */
const NAME = /(`[^`]+`|\b[a-z][a-z0-9]*(?:_[a-z0-9]+)+\b)/;

/** A name as it is typed. */
export const typedName = (name: string): TemplateResult => html`<code>${name}</code>`;

/** A sentence of the library's: the names in it as they are typed, or as `drawn` draws them. */
export const named = (text: string, drawn = typedName): readonly (ReturnType<typeof whole> | TemplateResult)[] =>
  // Every second part is a name.
  text.split(NAME).map((part, at) => (at % 2 === 0 ? whole(part) : drawn(part.replaceAll("`", ""))));
