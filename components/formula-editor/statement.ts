/**
 * A formula as one statement of the file: a line end outside parentheses would end it, so it becomes a blank. A line end
 * inside them, and inside nothing else, stays.
 */
export function oneStatement(text: string): string {
  let open = 0;
  let quoted = false;
  let noted = false;
  let written = "";
  for (const sign of text.trim()) {
    if (sign === "\n") {
      written += open > 0 && !quoted ? "\n" : " ";
      noted = noted && open <= 0;
      continue;
    }
    if (!noted) {
      if (sign === '"') quoted = !quoted;
      else if (!quoted && sign === "#") noted = true;
      else if (!quoted && sign === "(") open += 1;
      else if (!quoted && sign === ")") open -= 1;
    }
    written += sign;
  }
  return written;
}
