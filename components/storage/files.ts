import { wasCancelled } from "./trouble.ts";

/** A larger file is refused before it is read, in bytes: it is no brew book, and would only exhaust the device. */
export const LARGEST_FILE_BYTES = 64 * 1024 * 1024;

/** A download is long begun after this, and its text can be let go. */
const DOWNLOAD_MS = 60_000;

const GYLE = { description: "Gylebook", extensions: [".gyle"], mimeTypes: ["text/plain"] };

/** What a file was when it was last read or written by this book. */
export interface Seen {
  /** Milliseconds since 1970, as the file system tells it. */
  readonly modified: number;
  /** Bytes. */
  readonly size: number;
  /** SHA-256 of its bytes in hexadecimal digits; null where the browser has no means to take it. */
  readonly digest: string | null;
}

/** The file on disk that a book came from or was saved to. */
export interface BookFile {
  readonly name: string;
  /** With it the file can be saved in place; null where the browser gives none, and saving means downloading. */
  readonly handle: FileSystemFileHandle | null;
  readonly seen: Seen | null;
}

export type Picked =
  | { readonly is: "text"; readonly text: string; readonly file: BookFile }
  | { readonly is: "cancelled" }
  | { readonly is: "failed"; readonly says: string };

export type Saved =
  | { readonly is: "saved"; readonly says: string }
  | { readonly is: "downloaded"; readonly says: string }
  | { readonly is: "cancelled" }
  /** Nothing was written: the file is no longer what this book last saw. `theirs` is its text as it stands now. */
  | { readonly is: "changed"; readonly theirs: string; readonly says: string }
  | { readonly is: "failed"; readonly says: string };

/** How a file stands to what a book last saw of it; `unknown`: the browser would have to ask first. */
export type FileStanding = "none" | "same" | "changed" | "gone" | "unknown";

/** How to save: `over` a file that was changed elsewhere, or `as` a file that is chosen anew. */
export interface SaveHow {
  readonly over?: boolean;
  readonly as?: boolean;
}

/** What Chromium adds to handles; elsewhere they need no leave. */
interface AskingHandle extends FileSystemFileHandle {
  queryPermission?(how: { mode: "read" | "readwrite" }): Promise<PermissionState>;
  requestPermission?(how: { mode: "read" | "readwrite" }): Promise<PermissionState>;
}

interface HandleItem extends DataTransferItem {
  getAsFileSystemHandle?(): Promise<FileSystemHandle | null>;
}

interface Launching {
  launchQueue?: { setConsumer(consumer: (launch: { files: readonly FileSystemHandle[] }) => void): void };
}

/** What opens and writes files, fetched when it is first wanted; null where there is no network for it. */
const fileAccess = (): Promise<typeof import("browser-fs-access") | null> =>
  import("browser-fs-access").catch(() => null);

/** Lets a file be chosen and reads it. Call from the handler of a click or key. */
export async function pickFile(): Promise<Picked> {
  try {
    const access = await fileAccess();
    if (access === null) return failed("What opens files could not be fetched. Drop the file on the page instead.");
    const file = await access.fileOpen(GYLE);
    return await readFile(file, file.handle ?? null);
  } catch (error) {
    return wasCancelled(error) ? { is: "cancelled" } : failed("The browser could not open a file here.");
  }
}

/** Reads a file whole. Its byte-order mark and line ends stay as they are. */
export async function readFile(file: File, handle: FileSystemFileHandle | null = null): Promise<Picked> {
  if (file.size > LARGEST_FILE_BYTES)
    return failed(`${file.name} is larger than ${LARGEST_FILE_BYTES / 1024 / 1024} MB, the most that Gylebook opens.`);
  let bytes: ArrayBuffer;
  try {
    bytes = await file.arrayBuffer();
  } catch {
    return failed(`${file.name} cannot be read. It may be a folder, or it was moved, deleted or changed just now.`);
  }
  const text = decoded(bytes);
  if (text === null)
    return failed(`${file.name} is not a text in UTF-8, so it was not opened: reading it would spoil its letters.`);
  return { is: "text", text, file: { name: file.name, handle, seen: await seenOf(file, bytes) } };
}

/** Reads the files dropped on the page. Call it in the handler of the drop itself: the browser forgets them after. */
export async function droppedFiles(data: DataTransfer): Promise<readonly Picked[]> {
  const items: HandleItem[] = [...data.items].filter(({ kind }) => kind === "file");
  const dropped = items.map((item) => [item.getAsFile(), item.getAsFileSystemHandle?.().catch(() => null)] as const);
  const picked = dropped.map(async ([file, asked]): Promise<Picked> => {
    const handle = (await asked) ?? null;
    if (file === null || handle?.kind === "directory") return failed("A folder was dropped here; drop a file.");
    return readFile(file, isFile(handle) ? handle : null);
  });
  return Promise.all(picked);
}

/** Hands over the files that the system asks an installed Gylebook to open. */
export function launchedFiles(receive: (picked: Picked) => void): void {
  (globalThis as Launching).launchQueue?.setConsumer(async ({ files }) => {
    for (const handle of files) if (isFile(handle)) receive(await readHandle(handle));
  });
}

const isFile = (handle: FileSystemHandle | null): handle is FileSystemFileHandle => handle?.kind === "file";

async function readHandle(handle: FileSystemFileHandle): Promise<Picked> {
  try {
    return await readFile(await handle.getFile(), handle);
  } catch {
    return failed(`${handle.name} cannot be read.`);
  }
}

/** Puts a text among the downloads. */
export function downloadText(text: string, name: string): Saved {
  const address = URL.createObjectURL(blobOf(text));
  const anchor = document.createElement("a");
  anchor.href = address;
  anchor.download = name;
  anchor.click();
  setTimeout(() => URL.revokeObjectURL(address), DOWNLOAD_MS);
  return { is: "downloaded", says: `${name} is among your downloads.` };
}

/**
 * Saves a text in place where the file allows it, else into a file that is chosen, else as a download. A file that was
 * changed since it was last seen is not overwritten unless `how.over` says so. Gives back the file as it is seen now.
 */
export async function saveText(
  text: string,
  name: string,
  file: BookFile | null,
  how: SaveHow,
): Promise<{ readonly saved: Saved; readonly file: BookFile | null }> {
  try {
    const access = await fileAccess();
    if (access !== null && file?.handle && how.as !== true)
      return await saveInPlace(text, file, file.handle, how.over === true, access.fileSave);
    if (access?.supported !== true) return { saved: downloadText(text, file?.name ?? name), file };
    const handle = await access.fileSave(blobOf(text), { ...GYLE, fileName: file?.name ?? name });
    return handle === null ? { saved: { is: "cancelled" }, file } : await written(handle);
  } catch (error) {
    return { saved: wasCancelled(error) ? { is: "cancelled" } : unwritten(file?.name ?? name, error), file };
  }
}

async function saveInPlace(
  text: string,
  file: BookFile,
  handle: AskingHandle,
  over: boolean,
  fileSave: typeof import("browser-fs-access").fileSave,
) {
  const leave = await handle.requestPermission?.({ mode: "readwrite" });
  if (leave !== undefined && leave !== "granted")
    return { saved: failed(`The browser was not allowed to write ${file.name}. Nothing was written to it.`), file };
  const now = await readHandle(handle);
  if (!over) {
    if (now.is !== "text")
      return {
        saved: failed(`${file.name} is no longer where it was, or cannot be read. Save under a name chosen anew.`),
        file,
      };
    if (now.text !== text && !same(now.file.seen, file.seen)) {
      const says = `${file.name} was changed elsewhere since it was opened here. Nothing was written to it.`;
      return { saved: { is: "changed", theirs: now.text, says } as const, file };
    }
  }
  await fileSave(blobOf(text), GYLE, handle, true);
  return written(handle);
}

async function written(handle: FileSystemFileHandle) {
  const now = await readHandle(handle);
  const file: BookFile = now.is === "text" ? now.file : { name: handle.name, handle, seen: null };
  return { saved: { is: "saved", says: `Saved to ${handle.name}.` } as const, file };
}

const unwritten = (name: string, error: unknown): Saved => {
  const kind = error instanceof DOMException ? error.name : "";
  if (kind === "QuotaExceededError") return failed(`There is no room for ${name} on that disk. Nothing was written.`);
  if (kind === "NoModificationAllowedError")
    return failed(`Another program has ${name} in use. Close it there, then save again.`);
  return failed(`${name} could not be written. The book is as it was; save it under a name chosen anew.`);
};

/** How the file stands to what was last seen of it, without asking anybody. */
export async function standingOf(file: BookFile | null): Promise<FileStanding> {
  const handle: AskingHandle | null = file?.handle ?? null;
  if (file === null || handle === null) return "none";
  try {
    if (((await handle.queryPermission?.({ mode: "read" })) ?? "granted") !== "granted") return "unknown";
    const now = await handle.getFile();
    if (now.lastModified === file.seen?.modified && now.size === file.seen.size) return "same";
    return same(await seenOf(now, await now.arrayBuffer()), file.seen) ? "same" : "changed";
  } catch (error) {
    return error instanceof DOMException && error.name === "NotFoundError" ? "gone" : "unknown";
  }
}

/** The contents decide; the times only where contents were not taken. */
const same = (now: Seen | null, then: Seen | null): boolean => {
  if (now === null || then === null || now.size !== then.size) return false;
  return now.digest !== null && then.digest !== null ? now.digest === then.digest : now.modified === then.modified;
};

async function seenOf(file: File, bytes: ArrayBuffer): Promise<Seen> {
  const digest = await globalThis.crypto.subtle?.digest("SHA-256", bytes);
  const hex = digest && [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return { modified: file.lastModified, size: file.size, digest: hex ?? null };
}

function decoded(bytes: ArrayBuffer): string | null {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null;
  }
}

const blobOf = (text: string): Blob => new Blob([text], { type: "text/plain" });

const failed = (says: string) => ({ is: "failed", says }) as const;
