import { afterEach, describe, expect, test } from "vitest";
import {
  type BookFile,
  droppedFiles,
  LARGEST_FILE_BYTES,
  launchedFiles,
  type Picked,
  readFile,
  saveText,
  standingOf,
} from "./files.ts";

/** A folder of the browser's own: its handles are the same as those of files on disk, and need no picker. */
const folder = (): Promise<FileSystemDirectoryHandle> => navigator.storage.getDirectory();

const put = async (handle: FileSystemFileHandle, text: string): Promise<void> => {
  const writable = await handle.createWritable();
  await writable.write(text);
  await writable.close();
};

const textOf = async (handle: FileSystemFileHandle): Promise<string> => (await handle.getFile()).text();

const made: string[] = [];

/** A file with this text, and the book file as it is after opening it. */
const opened = async (name: string, text: string): Promise<{ handle: FileSystemFileHandle; file: BookFile }> => {
  made.push(name);
  const handle = await (await folder()).getFileHandle(name, { create: true });
  await put(handle, text);
  const picked = await readFile(await handle.getFile(), handle);
  if (picked.is !== "text") throw new Error("the file was not read");
  return { handle, file: picked.file };
};

afterEach(async () => {
  const root = await folder();
  for (const name of made.splice(0)) await root.removeEntry(name).catch(() => undefined);
});

describe("a file", () => {
  test("is read with its byte-order mark and line ends", async () => {
    const text = '\uFEFFgylebook 1\r\ntitle "Märzen"\r\n';
    const picked = await readFile(new File([text], "a.gyle"));
    expect(picked).toMatchObject({ is: "text", text, file: { name: "a.gyle", handle: null } });
    // SHA-256 of "abc" as published in FIPS 180-4's examples.
    const known = await readFile(new File(["abc"], "abc.gyle"));
    expect(known.is === "text" && known.file.seen?.digest).toBe(
      "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
    );
  });

  test("that is no UTF-8 is refused rather than spoilt", async () => {
    const latin = new Uint8Array([0x4d, 0xe4, 0x72, 0x7a, 0x65, 0x6e]);
    expect(await readFile(new File([latin], "old.gyle"))).toMatchObject({
      is: "failed",
      says: expect.stringContaining("old.gyle"),
    });
  });

  test("that is too large is refused before it is read", async () => {
    const vast = { name: "vast.gyle", size: LARGEST_FILE_BYTES + 1 } as File;
    expect(await readFile(vast)).toMatchObject({ is: "failed", says: expect.stringContaining("64 MB") });
  });

  test("that vanished, or is a folder, is told", async () => {
    const { handle } = await opened("gone.gyle", "gylebook 1\n");
    const file = await handle.getFile();
    await put(handle, "changed since\n");
    expect(await readFile(file)).toMatchObject({ is: "failed", says: expect.stringContaining("gone.gyle") });
  });

  test("that the system wants opened is read, each in its turn; folders are passed over, what vanished is told", async () => {
    type Consumer = (launch: { files: readonly FileSystemHandle[] }) => Promise<void>;
    let consumer: Consumer | null = null;
    const queue = {
      setConsumer: (given: Consumer) => {
        consumer = given;
      },
    };
    // The queue is the system's: headless browsers have none that can be filled.
    Object.defineProperty(globalThis, "launchQueue", { value: queue, configurable: true });
    const received: Picked[] = [];
    launchedFiles((picked) => received.push(picked));
    Reflect.deleteProperty(globalThis, "launchQueue");
    const one = await opened("one.gyle", "gylebook 1\n");
    const gone = await opened("gone.gyle", "gylebook 1\n");
    await (await folder()).removeEntry("gone.gyle");
    const two = await opened("two.gyle", 'gylebook 1\ntitle "Two"\n');
    await (consumer as Consumer | null)?.({ files: [one.handle, await folder(), gone.handle, two.handle] });
    expect(received.map((picked) => (picked.is === "text" ? picked.text : picked))).toEqual([
      "gylebook 1\n",
      { is: "failed", says: "gone.gyle cannot be read." },
      'gylebook 1\ntitle "Two"\n',
    ]);
    // With its handle a file is saved in place later.
    expect(received[0]).toMatchObject({ file: { name: "one.gyle", handle: one.handle } });
  });

  test("where the system hands over nothing, nothing happens", () => {
    expect(() => launchedFiles(() => expect.unreachable())).not.toThrow();
  });

  test("that is dropped is read", async () => {
    const data = new DataTransfer();
    data.items.add(new File(["gylebook 1\n"], "a.gyle"));
    data.items.add("some text", "text/plain");
    expect(await droppedFiles(data)).toMatchObject([{ is: "text", text: "gylebook 1\n" }]);
  });
});

describe("saving in place", () => {
  test("writes the file, and again", async () => {
    const { handle, file } = await opened("book.gyle", "one\n");
    const first = await saveText("two\n", "x.gyle", file, {});
    expect(first.saved).toEqual({ is: "saved", says: "Saved to book.gyle." });
    const second = await saveText("three, and longer\n", "x.gyle", first.file, {});
    expect(second.saved.is).toBe("saved");
    expect(await textOf(handle)).toBe("three, and longer\n");
    expect(await standingOf(second.file)).toBe("same");
  });

  test("leaves a file alone that was changed elsewhere, and hands over what stands in it", async () => {
    const { handle, file } = await opened("book.gyle", "one\n");
    await put(handle, "ONE\n"); // the same length: its size does not tell
    expect(await standingOf(file)).toBe("changed");
    const { saved, file: after } = await saveText("two\n", "x.gyle", file, {});
    expect(saved).toEqual({
      is: "changed",
      theirs: "ONE\n",
      says: "book.gyle was changed elsewhere since it was opened here. Nothing was written to it.",
    });
    expect(await textOf(handle)).toBe("ONE\n");
    const over = await saveText("two\n", "x.gyle", after, { over: true });
    expect(over.saved.is).toBe("saved");
    expect(await textOf(handle)).toBe("two\n");
  });

  test("does not cry over a file that was only touched, or that says the same already", async () => {
    const { handle, file } = await opened("book.gyle", "one\n");
    await new Promise((later) => setTimeout(later, 20));
    await put(handle, "one\n");
    expect((await handle.getFile()).lastModified).not.toBe(file.seen?.modified);
    expect(await standingOf(file)).toBe("same");
    expect((await saveText("two\n", "x.gyle", file, {})).saved.is).toBe("saved");
    expect((await saveText("two\n", "x.gyle", file, {})).saved.is).toBe("saved");
  });

  test("tells of a file that is gone, and does not bring it back by itself", async () => {
    const { file } = await opened("book.gyle", "one\n");
    await (await folder()).removeEntry("book.gyle");
    expect(await standingOf(file)).toBe("gone");
    const { saved } = await saveText("two\n", "x.gyle", file, {});
    expect(saved).toMatchObject({ is: "failed", says: expect.stringContaining("no longer where it was") });
    await expect((await folder()).getFileHandle("book.gyle")).rejects.toThrow();
  });

  test("tells when leave to write is not given, or another program has the file", async () => {
    const { handle, file } = await opened("book.gyle", "one\n");
    const refusing = Object.assign(Object.create(handle) as FileSystemFileHandle, {
      requestPermission: async () => "denied",
    });
    expect((await saveText("two\n", "x.gyle", { ...file, handle: refusing }, {})).saved).toMatchObject({
      is: "failed",
      says: expect.stringContaining("not allowed"),
    });
    const busy = Object.assign(Object.create(handle) as FileSystemFileHandle, {
      requestPermission: async () => "granted",
      getFile: () => handle.getFile(),
      createWritable: async () => {
        throw new DOMException("in use", "NoModificationAllowedError");
      },
    });
    expect((await saveText("two\n", "x.gyle", { ...file, handle: busy }, {})).saved).toMatchObject({
      is: "failed",
      says: expect.stringContaining("in use"),
    });
    expect(await textOf(handle)).toBe("one\n");
  });
});
