import type { Page } from "playwright";
import { expect } from "vitest";

/** What a person does on the page, by the words that stand on it. */
export interface Hands {
  /** Presses a button, or an item of the menu that is open. */
  press(name: string | RegExp): Promise<void>;
  /** Opens a menu and takes an item of it. */
  choose(menu: string, item: string): Promise<void>;
  /** Types into a field in place of what stands there. */
  write(field: string, text: string): Promise<void>;
  /** The same; Enter keeps it. */
  type(field: string, text: string): Promise<void>;
  /** Chooses one of a list. */
  pick(list: string | RegExp, choice: string): Promise<void>;
  /** Ticks a box. */
  tick(box: string): Promise<void>;
  /** Opens a sheet. */
  sheet(name: string): Promise<void>;
  /** Chooses the units that results are shown in. */
  units(lens: string): Promise<void>;
  /** Saves, shares or prints. */
  command(name: "Save" | "Share" | "Print"): Promise<void>;
}

const SETTLED = { timeout: 10_000 };

/** A mouse at a desk. */
export const mouse = (page: Page): Hands => ({
  async press(name) {
    await page.getByRole("button", { name, exact: true }).or(page.getByRole("menuitem", { name })).last().click();
  },
  async choose(menu, item) {
    await page.getByRole("button", { name: menu, exact: true }).click();
    await page.getByRole("menuitem", { name: item }).click();
  },
  async write(field, text) {
    await page.getByRole("textbox", { name: field, exact: true }).fill(text);
  },
  async type(field, text) {
    await this.write(field, text);
    await page.keyboard.press("Enter");
  },
  async pick(list, choice) {
    await page.getByLabel(list).selectOption({ label: choice });
  },
  async tick(box) {
    await page.getByRole("checkbox", { name: box }).check();
  },
  async sheet(name) {
    await page.getByRole("navigation", { name: "Sheets" }).getByRole("button", { name }).click();
  },
  units(lens) {
    return this.pick("Units", lens);
  },
  async command(name) {
    if (name === "Print") return this.choose("More", name);
    await page.getByRole("button", { name, exact: true }).click();
  },
});

/** A finger on a phone, where commands and sheets are folded away. */
export const finger = (page: Page): Hands => ({
  ...mouse(page),
  async sheet(name) {
    await page.getByRole("button", { name: "Sheets", exact: true }).tap();
    await page.getByRole("navigation", { name: "Sheets" }).getByRole("button", { name }).tap();
  },
  async units(lens) {
    await this.choose("More", `Units: ${lens}`);
  },
  async command(name) {
    await this.choose("More", name);
  },
});

/** What has the focus, as a screen reader would say it: its role and its name. */
const focused = (page: Page): Promise<{ readonly role: string; readonly name: string }> =>
  page.evaluate(() => {
    let active = document.activeElement;
    while (active?.shadowRoot?.activeElement) active = active.shadowRoot.activeElement;
    const label = (active as HTMLInputElement | null)?.labels?.[0];
    const name = active?.getAttribute("aria-label") ?? label?.textContent ?? active?.textContent ?? "";
    const type = active instanceof HTMLInputElement && active.type === "checkbox" ? "checkbox" : "field";
    const role = active instanceof HTMLInputElement || active instanceof HTMLTextAreaElement ? type : active?.localName;
    return { role: active?.getAttribute("role") ?? role ?? "", name: name.replace(/\s+/g, " ").trim() };
  });

/** More stops than the longest sheet has. */
const MOST_STOPS = 400;

const isCalled = (name: string, wanted: string | RegExp): boolean =>
  typeof wanted === "string" ? name === wanted : wanted.test(name);

/** Ten fingers and no mouse: every step goes from where the focus is. */
export const keyboard = (page: Page): Hands => {
  const { keyboard: keys } = page;
  const tabTo = async (roles: readonly string[], wanted: string | RegExp, key = "Tab"): Promise<void> => {
    const passed: string[] = [];
    for (let stop = 0; stop < MOST_STOPS; stop += 1) {
      const { role, name } = await focused(page);
      if (roles.includes(role) && isCalled(name, wanted)) return;
      passed.push(name);
      await keys.press(key);
    }
    throw new Error(`${key} does not come to ${wanted}. It passed ${passed.slice(-60).join(" | ")}`);
  };
  const press = async (name: string | RegExp): Promise<void> => {
    await tabTo(["button"], name);
    await keys.press("Enter");
  };
  return {
    press,
    async choose(menu, item) {
      await press(menu);
      await expect.poll(async () => (await focused(page)).role, SETTLED).toBe("menuitem");
      await tabTo(["menuitem"], new RegExp(`^${item}`), "ArrowDown");
      await keys.press("Enter");
    },
    async write(field, text) {
      await tabTo(["field", "textbox"], field);
      await keys.press("ControlOrMeta+a");
      await keys.insertText(text);
    },
    async type(field, text) {
      await this.write(field, text);
      await keys.press("Enter");
    },
    async pick(list, choice) {
      await tabTo(["select"], list);
      await keys.type(choice);
    },
    async tick(box) {
      await tabTo(["checkbox"], box);
      await keys.press("Space");
    },
    sheet: (name) => press(new RegExp(`^${name}`)),
    units(lens) {
      return this.pick(/^Units/, lens);
    },
    async command(name) {
      if (name === "Save") await keys.press("ControlOrMeta+s");
      else if (name === "Print") await keys.press("ControlOrMeta+p");
      else await press("Share");
    },
  };
};
