import { ask } from "../form/form.ts";
import type { Saved, SaveHow } from "../storage/files.ts";

/** Another tab has the book: whether to take it over from there or to open a copy; null: neither. */
export const openElsewhere = async (host: Element, says: string): Promise<"take" | "copy" | null> => {
  const values = await ask(host, {
    heading: "Open in another tab",
    says: `${says} Two tabs cannot write one book.`,
    fields: [
      {
        name: "how",
        label: "What now?",
        kind: "choice",
        choices: [
          { value: "take", label: "Go on here: the other tab keeps what it has and lets go" },
          { value: "copy", label: "Open a copy here" },
        ],
      },
    ],
    submit: "Go on",
  });
  if (values === null) return null;
  return values.how === "take" ? "take" : "copy";
};

/** What saves the book in hand, and where it says so. */
export interface Saver {
  readonly home: { readonly host: () => Element; readonly say: (says: string, grave?: boolean) => void };
  save(how?: SaveHow): Promise<Saved>;
}

/** Saves the book in hand and says so; asks before writing over another's work. */
export const save = async (keeper: Saver): Promise<void> => {
  const { home } = keeper;
  const saved = await keeper.save();
  if (saved.is === "cancelled") return;
  if (saved.is !== "changed") {
    home.say(saved.says, saved.is === "failed");
    return;
  }
  const values = await ask(home.host(), {
    heading: "Changed elsewhere",
    says: saved.says,
    fields: [
      {
        name: "how",
        label: "What now?",
        kind: "choice",
        choices: [
          { value: "as", label: "Save under another name" },
          { value: "over", label: "Write over it: what was changed there is lost" },
        ],
      },
    ],
    submit: "Save",
  });
  if (values === null) return;
  const again = await keeper.save({ as: values.how === "as", over: values.how === "over" });
  if (again.is !== "cancelled") home.say(again.says, again.is === "failed");
};
