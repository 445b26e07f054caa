/**
 * A newer program waits until no tab runs the older one, so that a page never finds half of itself replaced. Calls
 * `ready` when one waits; `take` puts it in place and loads the page anew: keep what is in hand before.
 */
export function watchForUpdate(ready: (take: () => void) => void): void {
  const workers = containerOf(navigator);
  if (workers === null) return;
  const tell = (worker: ServiceWorker): void => {
    ready(() => {
      workers.addEventListener("controllerchange", () => location.reload(), { once: true });
      worker.postMessage({ type: "SKIP_WAITING" });
    });
  };
  const watch = (registration: ServiceWorkerRegistration): void => {
    if (registration.waiting !== null) tell(registration.waiting);
    registration.addEventListener("updatefound", () => {
      const worker = registration.installing;
      worker?.addEventListener("statechange", () => {
        if (worker.state === "installed" && registration.active !== null) tell(worker);
      });
    });
  };
  workers.ready.then(watch, () => undefined);
}

/** What watches over workers; null where the browser has none, or throws at the very question, as in a page without an origin. */
function containerOf(browser: { readonly serviceWorker?: ServiceWorkerContainer }): ServiceWorkerContainer | null {
  try {
    return browser.serviceWorker ?? null;
  } catch {
    return null;
  }
}
