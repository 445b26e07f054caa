import type { Form, Values } from "./form.ts";

/** Asks in a dialog beside `host`, which is loaded when it is first wanted; null when it was left. */
export const ask = async (host: Element, form: Form): Promise<Values | null> =>
  (await import("./form.ts")).ask(host, form);
