/*
 * The plotting library makes a number format of the browser's language as it loads, and some systems report one that is no
 * language tag ("en-US@posix"), at which it would throw. Such a language reads as English; to be imported before the library.
 */
try {
  Intl.getCanonicalLocales(navigator.language);
} catch {
  Object.defineProperty(navigator, "language", { configurable: true, value: "en" });
}
