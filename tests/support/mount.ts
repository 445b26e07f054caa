import axe from "axe-core";
import type { LitElement } from "lit";
import { afterEach, vi } from "vitest";
import { tokens } from "../../components/look/tokens.ts";
import { createSession, type Session } from "../../engine/index.ts";

const mounted: Element[] = [];

afterEach(() => {
  for (const element of mounted.splice(0)) element.remove();
});

/** Puts an element on the page with its properties, in the look of the app, and waits until it is drawn; it is taken away after the test. */
export const mount = async <K extends keyof HTMLElementTagNameMap>(
  tag: K,
  properties: Partial<HTMLElementTagNameMap[K]>,
): Promise<HTMLElementTagNameMap[K]> => {
  const { styleSheet } = tokens;
  if (styleSheet !== undefined && !document.adoptedStyleSheets.includes(styleSheet))
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, styleSheet];
  document.documentElement.lang = "en";
  document.title = "Test of a component";
  const element = Object.assign(document.createElement(tag), properties);
  const sheet = document.createElement("div");
  sheet.style.container = "sheet / inline-size";
  sheet.append(element);
  mounted.push(sheet);
  document.body.append(sheet);
  await drawn(element);
  return element;
};

/** Waits until an element, and those inside it, have drawn what is new. */
export const drawn = async (element: Element): Promise<void> => {
  if ("updateComplete" in element) await (element as LitElement).updateComplete;
  await new Promise((settled) => requestAnimationFrame(() => setTimeout(settled)));
};

/** What a general-purpose checker of accessibility (axe-core, WCAG 2.2 A and AA) finds wrong, as sentences with the place. */
export const barriers = async (element: Element): Promise<string[]> => {
  const { violations } = await axe.run(element, {
    runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    // A part of a page has neither its landmarks nor its first heading.
    rules: {
      region: { enabled: false },
      "page-has-heading-one": { enabled: false },
      "landmark-one-main": { enabled: false },
      "heading-order": { enabled: false },
    },
  });
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map(({ target }) => `${id}: ${help} at ${target.join(" ")}`),
  );
};

/** The first element that matches inside the shadow root of another; throws when there is none. */
export const inside = <T extends HTMLElement = HTMLElement>(element: Element, selector: string): T => {
  const found = element.shadowRoot?.querySelector<T>(selector);
  if (!found) throw new Error(`nothing matches ${selector}`);
  return found;
};

/** Looks until what is looked for holds, for as long as a busy machine may take; gives what was found. */
export const soon = <T>(look: () => T | Promise<T>): Promise<T> => vi.waitFor(look, { timeout: 20_000, interval: 20 });

/** The same, once it is there: menus and dialogs are loaded when they are first opened. */
export const appears = async <T extends HTMLElement = HTMLElement>(element: Element, selector: string): Promise<T> => {
  const found = await soon(() => inside<T>(element, selector));
  await drawn(found);
  return found;
};

/** Types into a field as a person would, one input event. */
export const type = async (field: HTMLInputElement, text: string): Promise<void> => {
  field.focus();
  field.value = text;
  field.dispatchEvent(new InputEvent("input", { bubbles: true, composed: true }));
  await drawn((field.getRootNode() as ShadowRoot).host);
};

export const press = (element: Element, key: string, more: KeyboardEventInit = {}): boolean =>
  element.dispatchEvent(
    new KeyboardEvent("keydown", { key, bubbles: true, composed: true, cancelable: true, ...more }),
  );

/** A small book with every state in it: ready, waiting, faulty, cautioned, choices, a table and a plot. */
export const SMALL_BOOK = `gylebook 1
library 1
title "Amber ale, batch 214"
batch_date = ? 2026-03-01

unit sack = 25 kg

function share(part, whole) = part / whole as %

sheet mash "Mash"
> Strike water scalds: close valves before uncoupling a hose.
section "Malt and water"
grain "Malt in" = 8.5 sack     # eight full, one half
strike_water = 640 L
mash_ratio = strike_water / grain as L/kg
rest_measured = ? °C within 65 to 68 °C     # read after ten minutes
warmer = rest_measured + 1 Δ°C
tun = ? "tun one" within "tun one", "tun two"
bad "Total" = strike_water + grain
worse = bad * 2

sheet cellar "Cellar"
original = 12.1 °P

table readings "Daily readings"
  column taken : instant
  column gravity : °P by 0.1
  column temp : °C
  column gone = share(original - gravity, original)
  rows
    2026-03-02T08:15, 12.1, 17.8
    2026-03-03T08:05, 1.0415 SG, 64.9 °F
    2026-03-04T08:20, 7.4, 18.6
  end

latest = last(readings.gravity)

plot "Fermentation"
  across readings.taken
  line readings.gravity
  line readings.temp
`;

export const smallBook = (): Session => createSession(SMALL_BOOK);
