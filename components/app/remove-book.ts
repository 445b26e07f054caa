import { ask } from "../form/ask.ts";
import type { Keeper } from "./keeper.ts";

/** Asks which book is to be removed from this device, and removes it. */
export const removeBook = async (host: Element, keeper: Keeper): Promise<void> => {
  const kept = await keeper.list();
  const values = await ask(host, {
    heading: "Remove a book",
    says:
      kept.length === 0
        ? "No book is kept on this device."
        : "It goes from this device with all its readings. A file that it was saved to stays where it is. Right after, it can be taken back.",
    fields:
      kept.length === 0
        ? []
        : [
            {
              name: "book",
              label: "Which",
              kind: "choice",
              choices: kept.map(({ id, title, changed }) => ({
                value: id,
                label: `${title}, changed ${new Date(changed).toLocaleString()}`,
              })),
            },
          ],
    submit: kept.length === 0 ? "Good" : "Remove it",
    grave: kept.length > 0,
  });
  const entry = kept.find(({ id }) => id === values?.book);
  if (entry !== undefined) await keeper.remove(entry);
};
