import type { Detection } from "./detect.ts";
import type { Marks } from "./figures.ts";
import { type Asking, choice, question } from "./question.ts";
import type { Seen } from "./survey.ts";

const lines = (...all: Seen[]): string[] =>
  all.flatMap((seen) => seen.first.map(({ line, entry }) => `line ${line}: ${entry}`)).slice(0, 4);

/** The decimal and thousands marks of a file's figures: from what its entries rule out, else asked. */
export function proposeMarks(detection: Detection, asking: Asking): Marks {
  const { marks, shape } = detection;
  const { decimalPoint, decimalComma, eitherComma, eitherPoint } = marks;
  const by = (mark: "," | "." | " " | "'"): Seen | undefined => marks.groupedBy.get(mark);
  const blank = by(" ") ? " " : by("'") ? "'" : "";
  const commaRuledOut = decimalPoint.count > 0 || by(",") !== undefined;
  const pointRuledOut = decimalComma.count > 0 || by(".") !== undefined;
  const point: Marks = { decimal: ".", thousands: by(",") !== undefined || eitherComma.count > 0 ? "," : blank };
  const comma: Marks = { decimal: ",", thousands: by(".") !== undefined || eitherPoint.count > 0 ? "." : blank };
  const mixed = commaRuledOut && pointRuledOut;
  const isPlain = !commaRuledOut && !pointRuledOut && eitherComma.count === 0;
  // Where a comma parts the entries, a decimal comma would part every figure in two.
  const isPoint = isPlain && (eitherPoint.count === 0 || shape.separator.value === ",");
  const decided = (commaRuledOut && !pointRuledOut) || isPoint ? "point" : pointRuledOut && !mixed ? "comma" : null;
  const asked = question(
    "decimal",
    "Is the decimal mark of the figures a point or a comma?",
    [choice("point", "a point: 1,250.5"), choice("comma", "a comma: 1.250,5")],
    {
      why: mixed
        ? "Some figures have a decimal point and others a decimal comma; those of the other kind will be listed as unread."
        : decided === null
          ? "Every figure with a mark has three digits behind it: it may be a decimal mark or a thousands mark."
          : "The figures of the file show it.",
      examples: mixed ? lines(decimalPoint, decimalComma) : lines(eitherComma, eitherPoint),
    },
  );
  const answer = decided === null ? asking.ask(asked) : asking.settle(asked, decided);
  if (isPlain && eitherPoint.count === 0 && answer === "point") return { decimal: ".", thousands: blank };
  if (mixed) return answer === "comma" ? { decimal: ",", thousands: blank } : { decimal: ".", thousands: blank };
  return answer === "comma" ? comma : point;
}
