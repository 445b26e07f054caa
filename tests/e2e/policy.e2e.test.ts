import { describe, expect, inject } from "vitest";
import { TEST_LOCALE } from "../support/chromium.ts";
import { test } from "../support/page.ts";

describe("the built page", () => {
  test("runs no generated source, no inline script, and reaches no other host", async ({ browser }) => {
    const context = await browser.newContext({ locale: TEST_LOCALE });
    const page = await context.newPage();
    await page.goto(inject("appUrl"));
    const outcome = await page.evaluate(async () => {
      const refused: string[] = [];
      document.addEventListener("securitypolicyviolation", (fault) => refused.push(fault.effectiveDirective));
      const script = document.createElement("script");
      script.textContent = "document.title = 'run'";
      document.head.append(script);
      const style = document.createElement("style");
      document.head.append(style);
      style.textContent = "main { display: none }";
      // The driver's own task may generate source whatever the policy says, so the attempt waits for the page's next one.
      await new Promise((done) => setTimeout(done));
      const generated = await Promise.resolve("return 1")
        .then((source) => new Function(source)())
        .catch((fault: unknown) => (fault as Error).name);
      const fetched = await fetch("http://127.0.0.1:9/").catch((fault: unknown) => (fault as Error).name);
      await new Promise((done) => setTimeout(done));
      return { ran: document.title === "run", generated, fetched, refused: [...new Set(refused)].sort() };
    });
    await context.close();
    expect(outcome).toEqual({
      ran: false,
      generated: "EvalError",
      fetched: "TypeError",
      refused: ["connect-src", "script-src", "script-src-elem", "style-src-elem"],
    });
  });

  test("lets selected text in a formula be taken away and replaced, by keys and without", async ({ page }) => {
    // What the policy refuses is told on the console, and that fails the test.
    await page.locator("gyle-path").getByRole("button", { name: "Mash and run-off" }).click();
    await page.getByRole("button", { name: "What can be done with Liquor to malt", exact: true }).click();
    await page.getByRole("menuitem", { name: "Change the formula" }).click();
    const field = page.locator("gyle-formula-editor .cm-content");
    await field.press("ControlOrMeta+a");
    await field.press("Backspace");
    expect(await field.textContent()).toBe("");
    await page.keyboard.type("mean(3 kg, 5 kg)");
    await field.press("ControlOrMeta+a");
    await page.keyboard.insertText("7 L");
    expect(await field.textContent()).toBe("7 L");
    await field.press("ControlOrMeta+z");
    expect(await field.textContent()).toBe("mean(3 kg, 5 kg)");
  });

  test("asks for nothing but its own files", async ({ device }) => {
    const { open, context } = await device();
    const asked: string[] = [];
    context.on("request", (request) => asked.push(request.url()));
    const page = await open();
    await page.waitForLoadState("networkidle");
    expect(asked.length).toBeGreaterThan(0);
    expect(asked.filter((url) => !url.startsWith(inject("appUrl")) && !/^(?:data|blob):/.test(url))).toEqual([]);
  });
});
