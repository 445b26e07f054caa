import { expect, test } from "vitest";
import { barriers, drawn, inside, type } from "../../tests/support/mount.ts";
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
  check: ({ label = "", lines = "" }) => ({
    label: label === "" ? "It needs a label." : null,
    lines: lines === "" ? "Choose a line." : null,
  }),
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

test("tells every answer that will not do at its field, goes to the first, then gives them all", async () => {
  const { form, answer } = await open();
  inside(form, ".firm").click();
  await drawn(form);
  const label = inside<HTMLInputElement>(form, "#label");
  const described = (field: Element): string =>
    (field.getAttribute("aria-describedby") ?? "")
      .split(" ")
      .map((id) => inside(form, `#${id}`).textContent)
      .join(" ");
  const boxes = [...(form.shadowRoot?.querySelectorAll<HTMLInputElement>('[type="checkbox"]') ?? [])];
  expect([label, ...boxes].map((field) => field.getAttribute("aria-invalid"))).toEqual(["true", "true", "true"]);
  expect([described(label), described(inside(form, "fieldset"))]).toEqual([
    "It needs a label. Strike water",
    "Choose a line.",
  ]);
  expect(form.shadowRoot?.activeElement).toBe(label);
  expect(inside(form, '[role="alert"]').textContent).toBe("2 answers will not do yet: each says why.");
  expect(await barriers(form)).toEqual([]);
  await type(label, "Malt");
  expect(label.hasAttribute("aria-invalid")).toBe(false);
  expect(boxes[0]?.getAttribute("aria-invalid")).toBe("true");
  boxes.at(-1)?.click();
  await drawn(form);
  inside(form, ".firm").click();
  expect(await answer).toEqual({ label: "Malt", kind: "a", lines: "y" });
  expect(document.querySelector("gyle-form")).toBeNull();
});

test("what could not be carried out is told, and nothing typed is lost", async () => {
  let refuses = true;
  const answer = ask(document.body, {
    heading: "New line",
    fields: [{ name: "label", label: "What it is called" }],
    submit: "Add",
    keep: () => (refuses ? "The sheet is gone." : null),
  });
  const form = document.querySelector("gyle-form");
  if (form === null) throw new Error("no form was opened");
  await drawn(form);
  await type(inside<HTMLInputElement>(form, "#label"), "Malt");
  inside(form, ".firm").click();
  await drawn(form);
  expect(inside(form, '[role="alert"]').textContent).toBe("The sheet is gone.");
  expect(inside<HTMLInputElement>(form, "#label").value).toBe("Malt");
  refuses = false;
  inside(form, ".firm").click();
  expect(await answer).toEqual({ label: "Malt" });
});

test("tells what an answer is taken for, and puts a choice in its place", async () => {
  const answer = ask(document.body, {
    heading: "New line",
    fields: [
      {
        name: "formula",
        label: "What it holds",
        reads: (typed) =>
          typed === "1,250"
            ? { says: "Which is meant?", choices: [{ value: "1250", label: "1250" }] }
            : { says: `It is ${typed}.` },
      },
    ],
    submit: "Add",
  });
  const form = document.querySelector("gyle-form");
  if (form === null) throw new Error("no form was opened");
  await drawn(form);
  const field = inside<HTMLInputElement>(form, "#formula");
  await type(field, "1,250");
  expect(inside(form, "#formula-reads").textContent).toBe("Which is meant?");
  expect(await barriers(form)).toEqual([]);
  inside(form, ".offered button").click();
  await drawn(form);
  expect([field.value, inside(form, "#formula-reads").textContent]).toEqual(["1250", "It is 1250."]);
  expect(form.shadowRoot?.activeElement).toBe(field);
  inside(form, ".firm").click();
  expect(await answer).toEqual({ formula: "1250" });
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
