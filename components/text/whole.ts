import { html, type TemplateResult } from "lit";

/*
 * A figure and its unit stand in one line: 20 °C, 1 1/2 inch, 15.5 US gal, 120 mg/L CaCO3. What follows a figure may be any
 * word; a long one is let go, so that nothing stands out of a narrow place.
 */
const FIGURE = /[-−+]?\d[\d.,:–-]*(?: ?\d*\/\d+)?/;
const UNIT = /(?:(?:US|UK|imp|imperial) )?(?:fl )?[\p{L}°%‰Δ€£$][^\s]{0,11}(?: CaCO3| vol)?/u;
const WHOLE = new RegExp(`(?<![\\p{L}\\d_])(${FIGURE.source} ${UNIT.source})(?!\\S)`, "u");

/** A text whose figures are not parted from their units at the end of a line. Needs `.whole` of look/base.ts. */
export const whole = (text: string): string | readonly (string | TemplateResult)[] => {
  const parts = text.split(WHOLE);
  if (parts.length === 1) return text;
  // Every second part is what the pattern holds.
  return parts.map((part, at) => (at % 2 === 0 ? part : html`<span class="whole">${part}</span>`));
};
