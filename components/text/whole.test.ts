import { html, LitElement, type TemplateResult } from "lit";
import { describe, expect, test } from "vitest";
import { drawn, inside, mount } from "../../tests/support/mount.ts";
import { base } from "../look/base.ts";
import { whole } from "./whole.ts";

const kept = (text: string): string[] => {
  const parts = whole(text);
  return typeof parts === "string"
    ? []
    : parts.flatMap((part) => (typeof part === "string" ? [] : String(part.values[0])));
};

describe("a figure is kept with its unit", () => {
  test.each([
    ["at 20 °C", ["20 °C"]],
    ["within 65 to 68 °C, read twice", ["65 to", "68 °C,"]],
    ["kegs of 15.5 US gal", ["15.5 US gal"]],
    ["an alkalinity of 120 mg/L CaCO3", ["120 mg/L CaCO3"]],
    ["12 lb 4 oz of malt", ["12 lb", "4 oz"]],
    ["4.9 % vol or −0.4 Δ°P", ["4.9 % vol", "−0.4 Δ°P"]],
    ["0.5–2 h", ["0.5–2 h"]],
    ["a 1 1/2 inch line, a 3/4 inch one", ["1 1/2 inch", "3/4 inch"]],
    ["sum([150.0, 1.5 kg])", ["1.5 kg])"]],
  ])("%s", (text, figures) => {
    expect(kept(text)).toEqual(figures);
  });

  test.each(["Rest measured", "Reid and Speers 2009", "2026-03-02 08:15", "r1 kg", "3 undifferentiated"])(
    "and nothing of %s",
    (text) => {
      expect(whole(text)).toBe(text);
    },
  );
});

class WholeTexts extends LitElement {
  static override styles = base;
  protected override render(): TemplateResult {
    return html`<p>${whole("Rest at 66 °C")}</p>`;
  }
}
customElements.define("whole-texts", WholeTexts);

declare global {
  interface HTMLElementTagNameMap {
    "whole-texts": WholeTexts;
  }
}

test("wherever the line ends", async () => {
  const element = await mount("whole-texts", {});
  expect(element.shadowRoot?.textContent).toBe("Rest at 66 °C");
  for (let width = 120; width > 50; width -= 5) {
    element.style.inlineSize = `${width}px`;
    await drawn(element);
    expect(inside(element, ".whole").getClientRects()).toHaveLength(1);
  }
  expect(inside(element, "p").getBoundingClientRect().height).toBeGreaterThan(40);
});
