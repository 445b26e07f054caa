import { html } from "lit";
import type { Command } from "../events.ts";
import { ask } from "../form/form.ts";
import { problemsOf, titleOf } from "../text/book.ts";
import { KEYS } from "../workbook/keys.ts";
import type { GyleWorkbook } from "../workbook/workbook.ts";
import { EMPTY_BOOK, readShippedBook, SHIPPED_BOOKS } from "./books.ts";
import { inList, removeBook, share } from "./dialogs.ts";
import type { Keeper } from "./keeper.ts";
import { newGyleOf, notesOfReadings } from "./new-gyle.ts";
import { save } from "./save.ts";

/** Carries out a command of the head or of a menu that concerns the whole page. */
export const carryOut = async (command: Command, book: GyleWorkbook, keeper: Keeper): Promise<void> => {
  switch (command) {
    case "save":
      return save(keeper);
    case "share":
      return share(keeper);
    case "open":
      return choose(book, keeper);
    case "remove-book":
      return removeBook(keeper);
    case "new":
      return newBook(book, keeper);
    case "new-gyle":
      return newGyle(book, keeper);
    case "plant":
      if (await (await import("../plant/plant.ts")).setUpPlant(book, book.session))
        book.say("Our plant is kept. What hangs on it was worked out anew.");
      return;
    case "one-figure":
      return oneFigure(book);
    case "keys":
      await ask(book, {
        heading: "Keys",
        says: html`<dl>${KEYS.map(({ keys, does }) => html`<dt><kbd>${keys}</kbd></dt><dd>${does}</dd>`)}</dl>`,
        fields: [],
        submit: "Close",
        tells: true,
      });
      return;
    default:
      return;
  }
};

/** A file, a book of this device, or one that comes with Gylebook. */
const choose = async (book: GyleWorkbook, keeper: Keeper): Promise<void> => {
  const kept = await keeper.list();
  const values = await ask(book, {
    heading: "Open a book",
    says: "A book is kept on this device from its first change on.",
    fields: [
      {
        name: "book",
        label: "Which book",
        kind: "choice",
        choices: [
          { value: "", label: "A file from this device" },
          ...kept.map((entry) => ({ value: `kept ${entry.id}`, label: `Kept on this device: ${inList(entry)}` })),
          ...SHIPPED_BOOKS.map(({ name, label, says }) => ({
            value: name,
            label: `Comes with Gylebook: ${label} (${says})`,
          })),
        ],
      },
    ],
    submit: "Open",
  });
  if (values === null) return;
  const wanted = values.book ?? "";
  const entry = kept.find(({ id }) => wanted === `kept ${id}`);
  if (wanted === "") await keeper.openFile();
  else if (entry === undefined) await keeper.openShipped(wanted);
  else await keeper.openKept(entry);
};

const newBook = async (book: GyleWorkbook, keeper: Keeper): Promise<void> => {
  const values = await ask(book, {
    heading: "New book",
    fields: [
      {
        name: "from",
        label: "Begin",
        kind: "choice",
        choices: [
          { value: "", label: "from nothing" },
          ...SHIPPED_BOOKS.map(({ name, label, says }) => ({ value: name, label: `from ${label}: ${says}` })),
        ],
      },
    ],
    submit: "Begin",
  });
  if (values === null) return;
  try {
    keeper.openNew(values.from ? await readShippedBook(values.from) : EMPTY_BOOK);
  } catch (refused) {
    book.say(refused instanceof Error ? refused.message : String(refused), true);
  }
};

/** Keeps this gyle as it is, and begins the next with its plant and recipe; what was read is emptied. */
const newGyle = async (book: GyleWorkbook, keeper: Keeper): Promise<void> => {
  const notes = notesOfReadings(book.session);
  const values = await ask(book, {
    heading: "New gyle from this one",
    says: "Plant and recipe go over; every reading is emptied, to be taken anew. This gyle stays on this device as it is.",
    fields: [
      {
        name: "title",
        label: "Title of the new gyle",
        value: await keeper.nextTitle(titleOf(book.session.workbook)),
      },
      ...(notes.length === 0
        ? []
        : [
            {
              name: "notes",
              label: "Notes beside readings that go over",
              kind: "several" as const,
              value: notes.map(({ line }) => line).join(","),
              choices: notes.map(({ line, label, note }) => ({ value: line, label: `${label}: ${note}` })),
              hint: "Untick what was of this day alone. This gyle keeps them all, and every note beside the recipe goes over.",
            },
          ]),
    ],
    submit: "Begin the new gyle",
    check: ({ title = "" }) => ({ title: title.trim() === "" ? "It needs a title." : null }),
  });
  if (values === null) return;
  const kept = new Set((values.notes ?? "").split(","));
  const dropped = new Set(notes.map(({ line }) => line).filter((line) => !kept.has(line)));
  // Emptied before it is opened: undoing must not bring the readings of one gyle into the book of another.
  if (!(await keeper.copy((values.title ?? "").trim(), (text) => newGyleOf(text, dropped)))) return;
  const [first] = problemsOf(book.session).blanks;
  if (first !== undefined) await book.goTo(first);
  book.say("A new gyle is begun. Every reading is to be taken, this one first.");
};

const oneFigure = async (book: GyleWorkbook): Promise<void> => {
  await import("../one-figure/one-figure.ts");
  const dialog = document.createElement("gyle-one-figure");
  dialog.session = book.session;
  dialog.sheet = book.here;
  dialog.addEventListener("close", () => dialog.remove());
  book.shadowRoot?.querySelector("main")?.append(dialog);
};
