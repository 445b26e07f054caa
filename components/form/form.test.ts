import { expect, test } from "vitest";
import { barriers, drawn, inside } from "../../tests/support/mount.ts";
import { ask, type Form, type GyleForm } from "./form.ts";

const FORM: Form = {
  heading: "New line",
  fields: [
    { name: "label", label: "What it is called", hint: "Strike water" },
    {
      name: "kind",
      label: "Kind",
      kind: "choice",
      choices: [
        { value: "a", label: "A" },
        { value: "b", label: "B" },
      ],
    },
    {
      name: "lines",
      label: "Lines",
      kind: "several",
      value: "",
      choices: [
        { value: "x", label: "X" },
        { value: "y", label: "Y" },
      ],
    },
  ],
  submit: "Add",
  check: ({ label = "" }) => (label === "" ? "It needs a label." : null),
};

const open = async (): Promise<{ form: GyleForm; answer: Promise<unknown> }> => {
  const answer = ask(document.body, FORM);
  const form = document.querySelector("gyle-form");
  if (form === null) throw new Error("no form was opened");
  await drawn(form);
  return { form, answer };
};
const leave = (form: GyleForm): void => inside(form, ".leave").click();

test("meets no barrier", async () => {
  const { form } = await open();
  expect(await barriers(form)).toEqual([]);
  leave(form);
});

test("refuses answers with a sentence, then gives them all", async () => {
  const { form, answer } = await open();
  inside(form, ".firm").click();
  await drawn(form);
  expect(inside(form, ".refused").textContent).toBe("It needs a label.");
  const label = inside<HTMLInputElement>(form, "#label");
  label.value = "Malt";
  label.dispatchEvent(new InputEvent("input"));
  const last = [...(form.shadowRoot?.querySelectorAll<HTMLInputElement>('[type="checkbox"]') ?? [])].at(-1);
  last?.click();
  await drawn(form);
  inside(form, ".firm").click();
  expect(await answer).toEqual({ label: "Malt", kind: "a", lines: "y" });
  expect(document.querySelector("gyle-form")).toBeNull();
});

test("a long choice does not widen it", async () => {
  void ask(document.body, {
    heading: "Open a book",
    fields: [
      {
        name: "book",
        label: "Which book",
        kind: "choice",
        choices: [{ value: "a", label: "a long name ".repeat(20) }],
      },
    ],
    submit: "Open",
  });
  const form = document.querySelector("gyle-form");
  if (form === null) throw new Error("no form was opened");
  await drawn(form);
  const dialog = inside(form, "dialog");
  expect(dialog.scrollWidth).toBeLessThanOrEqual(dialog.clientWidth);
  leave(form);
});

test("what only tells something has one button, which has the focus", async () => {
  void ask(document.body, { heading: "Keys", says: "Enter keeps.", fields: [], submit: "Close", tells: true });
  const form = document.querySelector("gyle-form");
  if (form === null) throw new Error("no form was opened");
  await drawn(form);
  const buttons = [...(form.shadowRoot?.querySelectorAll<HTMLElement>("footer button") ?? [])];
  expect(buttons.map(({ textContent }) => textContent)).toEqual(["Close"]);
  expect(form.shadowRoot?.activeElement).toBe(buttons[0]);
  buttons[0]?.click();
});

test("left, it gives nothing and the focus goes back", async () => {
  const before = document.createElement("button");
  document.body.append(before);
  before.focus();
  const { form, answer } = await open();
  leave(form);
  expect(await answer).toBeNull();
  expect(document.activeElement).toBe(before);
  before.remove();
});
