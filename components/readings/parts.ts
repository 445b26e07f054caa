import { html, nothing, type TemplateResult } from "lit";
import { repeat } from "lit/directives/repeat.js";
import { inWords, type NewColumn, type Question, type Settled } from "../../engine/index.ts";
import type { Look } from "./messages.ts";

/** A moment stands with a blank for its T, as in the tables. */
export const shown = (entry: string): string => entry.replace(/^(\d{4}-\d\d-\d\d)T/, "$1 ");

/** `1 row`, `12 rows`. */
export const rowsInWords = (count: number): string => inWords(count, "row");

type Answer = (about: string, value: string) => void;

const typedIn = (event: Event): string => (event.target as HTMLInputElement).value;

/** What the file leaves open, each with its examples; nothing is read before it is answered. */
export const questions = (open: readonly Question[], answer: Answer): TemplateResult => html`<section>
  <h3 id="open">${open.length === 1 ? "One thing the file does not tell" : `${open.length} things the file does not tell`}</h3>
  ${repeat(
    open,
    ({ about }) => about,
    (asked) => html`<fieldset class="question">
      <legend>${asked.asks}</legend>
      <p class="soft">${asked.why}</p>
      ${asked.examples.length === 0 ? nothing : html`<ul class="examples">${asked.examples.map((example) => html`<li>${example}</li>`)}</ul>`}
      ${asked.choices.map(
        ({
          value,
          label,
        }) => html`<label class="choice"><input type="radio" name=${asked.about} value=${value} .checked=${false}
          @change=${() => answer(asked.about, value)} /><span>${label}${value === asked.likely ? html` <span class="soft">– likelier</span>` : nothing}</span></label>`,
      )}
      ${
        asked.free
          ? html`<label class="free">Another: <input autocomplete="off" spellcheck="false" @change=${(event: Event) => {
              if (typedIn(event).trim() !== "") answer(asked.about, typedIn(event).trim());
            }} /></label>`
          : nothing
      }
    </fieldset>`,
  )}
</section>`;

/** The first rows as the table will hold them, those that cannot be read among them, and which columns are not in them. */
export const firstRows = ({
  columns,
  rows,
  questions: open,
  against,
  unread,
  unfilled,
}: Look): TemplateResult => html`<section>
  <h3 id="first">The first rows, as they ${open.length + against.length > 0 ? "would" : "will"} be read</h3>
  <div class="scroll" tabindex="0" role="region" aria-labelledby="first">
    <table>
      <thead><tr><th scope="col">Line</th>${columns.map(
        ({ label, unit }) =>
          html`<th scope="col">${label}${unit === "" || unit === label ? nothing : html` <span class="unit">${unit}</span>`}</th>`,
      )}</tr></thead>
      <tbody>${rows.map((row) =>
        row.entries === null
          ? html`<tr class="rejected"><th scope="row">${row.line}</th><td colspan=${columns.length}>${row.reason}</td></tr>`
          : html`<tr><th scope="row">${row.line}</th>${columns.map((_, at) => html`<td>${shown(row.entries[at] ?? "") || "–"}</td>`)}</tr>`,
      )}</tbody>
    </table>
  </div>
    ${unread.length === 0 ? nothing : html`<p class="soft">Not read: ${unread.join(", ")}.</p>`}
    ${unfilled.length === 0 ? nothing : html`<p class="soft">Left empty in the table: ${unfilled.join(", ")}.</p>`}
</section>`;

const select = (label: string, { question, value }: Settled, answer: Answer): TemplateResult =>
  html`<select aria-label=${label} @change=${(event: Event) => answer(question.about, typedIn(event))}>
    ${question.choices.map((one) => html`<option value=${one.value} .selected=${one.value === value}>${one.label}</option>`)}
  </select>`;

const typed = (label: string, { question, value }: Settled, answer: Answer): TemplateResult =>
  html`<input class="unit-field" aria-label=${label} list="list-${question.about}" autocomplete="off" spellcheck="false" .value=${value}
      @change=${(event: Event) => answer(question.about, typedIn(event).trim())} />
    <datalist id="list-${question.about}">${question.choices.map((one) => html`<option value=${one.value}></option>`)}</datalist>`;

const field = (label: string, settled: Settled, answer: Answer): TemplateResult =>
  settled.question.free ? typed(label, settled, answer) : select(label, settled, answer);

/** What the file shows by itself, to be set otherwise: how it is written, and which of its columns is which of the table's. */
export const howItIsRead = (look: Look, answer: Answer): TemplateResult => {
  const matched = look.settled.filter(({ question }) => question.about.startsWith("column:"));
  const isUnit = ({ question: { about } }: Settled): boolean => /^(?:unit|gravity):/.test(about);
  const unitOf = (header: string): Settled | undefined =>
    look.settled.find((one) => isUnit(one) && one.question.about.replace(/^\w+:/, "") === header);
  const others = look.settled.filter((one) => !matched.includes(one) && !isUnit(one));
  return html`<section>
    <h3 id="how">How it is read</h3>
    <div class="settings">${others.map(
      (settled) => html`<div class="setting"><span aria-hidden="true">${settled.question.asks}</span>
        ${field(settled.question.asks, settled, answer)}</div>`,
    )}</div>
    ${
      matched.length === 0
        ? nothing
        : html`<table class="matches"><thead><tr><th scope="col">Column</th><th scope="col">in the file</th><th scope="col">in</th></tr></thead>
      <tbody>${matched.map((settled) => {
        const name = settled.question.about.slice("column:".length);
        const unit = unitOf(settled.value);
        return html`<tr><th scope="row">${look.columns.find((column) => column.name === name)?.label ?? name}</th>
          <td>${select(settled.question.asks, settled, answer)}</td>
          <td>${unit === undefined ? nothing : field(unit.question.asks, unit, answer)}</td></tr>`;
      })}</tbody></table>`
    }
  </section>`;
};

/** The columns of a new table: what they are called and ask for, and whether they are made. */
export const newColumns = (
  columns: readonly NewColumn[],
  change: (columns: readonly NewColumn[]) => void,
): TemplateResult => html`<section>
  <h3 id="new">Columns of the new table</h3>
  <ul class="new-columns">${columns.map(
    (column, at) => html`<li>
      <label>Column <input autocomplete="off" .value=${column.label} @change=${(event: Event) => {
        if (typedIn(event).trim() !== "") change(columns.with(at, { ...column, label: typedIn(event).trim() }));
      }} /></label>
      <label>Unit, or number, text, instant, truth <input class="unit-field" autocomplete="off" spellcheck="false" .value=${column.asks} @change=${(
        event: Event,
      ) => change(columns.with(at, { ...column, asks: typedIn(event).trim() || "number" }))} /></label>
      <button class="link" ?disabled=${columns.length < 2} @click=${() => change(columns.toSpliced(at, 1))}>Leave ${column.label} out</button>
    </li>`,
  )}</ul>
</section>`;
