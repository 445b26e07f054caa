import { ask } from "../form/form.ts";
import { makeLink } from "../storage/link.ts";
import type { BookEntry } from "../storage/store.ts";
import { titleOf } from "../storage/title.ts";
import { momentOf } from "../text/moment.ts";
import type { Keeper } from "./keeper.ts";
import { save } from "./save.ts";

/** Names of a machine that only it itself can reach (RFC 6761, section 6.3; RFC 1122, section 3.2.1.3), and files on its disk. */
const ONLY_HERE = /^(?:localhost|.+\.localhost|127(?:\.\d{1,3}){3}|0\.0\.0\.0|\[::1?\]|)$/i;

/** What a link needs beside itself: an address that the other brewer's device can reach; empty where it may. */
export const reach = (hostname: string): string =>
  ONLY_HERE.test(hostname)
    ? `This page runs on this device alone, at an address that no other device can reach (${hostname || "a file"}): the link opens the book in this browser only. For another brewer put Gylebook at an address that both of you can reach, or send the file instead. `
    : "It opens wherever this page's address can be reached. ";

/** Makes a link that carries the whole book, and copies it; or saves the book as a file to send. */
export const share = async (keeper: Keeper): Promise<void> => {
  const { home } = keeper;
  const link = await makeLink(home.session().text(), location.href);
  if (link.is === "failed") {
    home.say(link.says, true, { label: "Save a file", run: () => void save(keeper) });
    return;
  }
  const file = { value: "file", label: "Save the file, to send it" };
  const copy = { value: "copy", label: "Copy the link" };
  const elsewhere = !ONLY_HERE.test(location.hostname);
  const values = await ask(home.host(), {
    heading: "Share this book",
    says: `The whole book is in the link itself; no server sees it. ${reach(location.hostname)}${link.warning ?? ""}`,
    fields: [
      { name: "url", label: "Link", kind: "long", value: link.url },
      { name: "how", label: "What now?", kind: "choice", choices: elsewhere ? [copy, file] : [file, copy] },
    ],
    submit: "Go on",
  });
  if (values === null) return;
  if (values.how === "file") {
    await save(keeper);
    return;
  }
  const copied = await navigator.clipboard.writeText(link.url).then(
    () => true,
    () => false,
  );
  home.say(
    copied
      ? "The link is copied."
      : "The browser did not let the link be copied. Mark it in the field and copy it by hand.",
    !copied,
  );
};

/** Removes a book from this device, but not the one in hand; the sentence that says so offers to take it back. */
const remove = async ({ home, shelf, id: inHand }: Keeper, { id, title }: BookEntry): Promise<void> => {
  if (id === inHand) {
    home.say(`${title} is in hand. Open another book first.`, true);
    return;
  }
  const opening = await shelf.open(id);
  if (opening.is !== "open") {
    home.say(opening.is === "elsewhere" ? `${opening.says} Close it there first.` : opening.says, true);
    return;
  }
  const { book } = opening;
  const { text } = book;
  await book.close();
  if (!(await shelf.remove(id))) {
    home.say(shelf.trouble?.says ?? `${title} could not be removed.`, true);
    return;
  }
  home.say(`${title} is removed from this device.`, false, {
    label: "Take it back",
    run: () => {
      const back = shelf.begin(text, "new");
      void back.close().then(() => home.say(`${titleOf(text) ?? title} is on this device again.`));
    },
  });
};

/** How a book of this device stands in a list: two of one title differ in their last change. */
export const inList = ({ title, changed }: BookEntry): string => `${title}, changed ${momentOf(new Date(changed))}`;

/** Asks which book is to be removed from this device, and removes it. */
export const removeBook = async (keeper: Keeper): Promise<void> => {
  const kept = await keeper.list();
  const values = await ask(keeper.home.host(), {
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
              label: "Which book",
              kind: "choice",
              choices: kept.map((entry) => ({ value: entry.id, label: inList(entry) })),
            },
          ],
    submit: kept.length === 0 ? "Close" : "Remove it",
    tells: kept.length === 0,
    grave: kept.length > 0,
  });
  const entry = kept.find(({ id }) => id === values?.book);
  if (entry !== undefined) await remove(keeper, entry);
};
