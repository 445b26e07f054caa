import { type Fault, fault, mend } from "../diagnostics/diagnostic.ts";
import { CURRENCIES_OF } from "../parser/slips.ts";

/** Where a sign of money stands in a book that counts in one of its currencies, that one is offered and no other. */
export function moneyMeant(
  text: string,
  faults: readonly Fault[],
  currencies: () => ReadonlySet<string>,
): readonly Fault[] {
  return faults.map((found) => {
    const sign = found.code === "unknown-unit" ? found.data.spelling.toLowerCase() : text.charAt(found.span.start);
    const shared = found.mends.length === 0 ? undefined : CURRENCIES_OF.get(sign);
    const own = shared?.filter((code) => currencies().has(code)) ?? [];
    if (own.length === 0) return found;
    const { span } = found;
    if (found.code === "unknown-unit")
      return fault(
        "unknown-unit",
        span,
        { spelling: found.data.spelling, near: own },
        own.map((code) => mend(`Write ${code}`, span, code)),
      );
    const figure = found.mends[0]?.replace[0]?.text.split(" ")[0] ?? "";
    const written = own.map((code) => `${figure} ${code}`);
    return fault(
      "syntax",
      span,
      { says: `A unit stands behind its figure: ${written.join(" or ")}.` },
      own.map((code) => mend(`Write ${code} behind`, span, `${figure} ${code}`)),
    );
  });
}
