import { expect, test } from "vitest";
import { barriers, mount } from "../../tests/support/mount.ts";
import "./first-run.ts";

test("meets no barrier", async () => {
  expect(await barriers(await mount("gyle-first-run", {}))).toEqual([]);
});

test("offers four ways on", async () => {
  const first = await mount("gyle-first-run", {});
  const taken: string[] = [];
  first.addEventListener("gyle-command", (event) => taken.push(event.detail.command));
  for (const way of first.shadowRoot?.querySelectorAll<HTMLElement>("li button") ?? []) way.click();
  expect(taken).toEqual(["one-figure", "brew", "plant", "open"]);
});
