import { html, nothing, type TemplateResult } from "lit";
import type { Brings, ShownColumn } from "./messages.ts";
import { rowsInWords, shown } from "./parts.ts";

/** Corrections and rejects that are listed one by one; all of the rejects can be saved. */
const MOST_LISTED = 100;

/** What reading the file would bring: counts that add up, what is corrected from what to what, and what is not read and why. */
export const outcome = (brings: Brings, columns: readonly ShownColumn[], saveRejects: () => void): TemplateResult => {
  const { read, added, changed, same, rejected, leftOut } = brings;
  const aside = [
    [leftOut.preamble, "above the table"],
    [leftOut.headers, "of headers"],
    [leftOut.blank, "blank"],
    [leftOut.filtered, "of others, by your answers"],
  ] as const;
  const apart = aside.filter(([count]) => count > 0).map(([count, of]) => `${count.toLocaleString("en")} ${of}`);
  return html`<section>
    <h3 id="brings" tabindex="-1">What it would bring</h3>
    <dl class="counts">
      ${(
        [
          ["read", read, "="],
          ["added", added, "+"],
          ["corrected", changed.length, "+"],
          ["there already", same, "+"],
          ["not read", rejected.length, ""],
        ] as const
      ).map(
        ([word, count, sign]) =>
          html`<div class=${word === "not read" && count > 0 ? "faulty" : ""}><dt>${word}</dt><dd data-sign=${sign}>${count.toLocaleString("en")}</dd></div>`,
      )}
    </dl>
    ${apart.length === 0 ? nothing : html`<p class="soft">Lines that are no rows: ${apart.join(", ")}.</p>`}
    ${brings.notes.length === 0 ? nothing : html`<ul class="notes">${brings.notes.map((note) => html`<li>${note}</li>`)}</ul>`}
    ${changed.length === 0 ? nothing : corrections(brings, columns)}
    ${rejected.length === 0 ? nothing : rejects(brings, saveRejects)}
  </section>`;
};

const more = (all: number): TemplateResult | typeof nothing =>
  all > MOST_LISTED ? html`<p class="soft">And ${rowsInWords(all - MOST_LISTED)} more.</p>` : nothing;

const corrections = ({ changed }: Brings, columns: readonly ShownColumn[]): TemplateResult => html`
  <h4 id="corrected">Rows that it corrects</h4>
  <div class="scroll" tabindex="0" role="region" aria-labelledby="corrected">
    <table>
      <thead><tr><th scope="col">Row</th><th scope="col">Line</th><th scope="col">Column</th><th scope="col">Now</th><th scope="col">Then</th></tr></thead>
      <tbody>${changed.slice(0, MOST_LISTED).flatMap(({ row, line, differences }) =>
        differences.map(
          (one) => html`<tr><th scope="row">${row + 1}</th><td>${line}</td>
            <td class="words">${columns.find(({ name }) => name === one.column)?.label ?? one.column}</td>
            <td><del>${shown(one.old) || "–"}</del></td><td><ins>${shown(one.new)}</ins></td></tr>`,
        ),
      )}</tbody>
    </table>
  </div>
  ${more(changed.length)}`;

const rejects = ({ rejected }: Brings, save: () => void): TemplateResult => html`
  <h4 id="rejected">Rows that are not read</h4>
  <div class="scroll" tabindex="0" role="region" aria-labelledby="rejected">
    <table>
      <thead><tr><th scope="col">Line</th><th scope="col">As it stands</th><th scope="col">Why</th></tr></thead>
      <tbody>${rejected
        .slice(0, MOST_LISTED)
        .map(
          ({ line, row, reason }) =>
            html`<tr class="rejected"><th scope="row">${line}</th><td class="words raw">${row}</td><td class="words">${reason}</td></tr>`,
        )}</tbody>
    </table>
  </div>
  ${more(rejected.length)}
  <button class="edged" @click=${save}>Save rejects as CSV</button>`;
