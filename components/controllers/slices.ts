/** Work in one go, in milliseconds: well below a tenth of a second, after which a page seems stuck, also where the machine is slow. */
const SLICE_MS = 16;

/** Lets the page draw and answer to whoever uses it: what follows is a task of its own. */
export const breathe = (): Promise<void> =>
  new Promise((go) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      go();
    };
    port2.postMessage(null);
  });

/** Does what takes long in a task of its own, and anything else at once. */
export const apart = (isLong: boolean, work: () => void): Promise<void> | undefined => {
  if (isLong) return breathe().then(work);
  work();
  return undefined;
};

/** Goes through work step by step, with pauses in which the page lives on; null when `stopped` says so in one of them. */
export const inSlices = async <T>(work: Generator<void, T>, stopped: () => boolean): Promise<T | null> => {
  for (;;) {
    const until = performance.now() + SLICE_MS;
    do {
      const step = work.next();
      if (step.done) return step.value;
    } while (performance.now() < until);
    await breathe();
    if (stopped()) return null;
  }
};
