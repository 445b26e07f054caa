import { html, LitElement, nothing, type TemplateResult } from "lit";
import {
  type LibraryFunction,
  type Link,
  type Session,
  type Working,
  wordCaution,
  working as workingOf,
} from "../../engine/index.ts";
import { apply } from "../actions/apply.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import { tell } from "../events.ts";
import { base } from "../look/base.ts";
import { cautionShape } from "../look/icons.ts";
import { named } from "../text/named.ts";
import { faultsOf, goLink } from "../text/standing.ts";
import { whole } from "../text/whole.ts";
import { workingStyles } from "./working-styles.ts";

/** Most lines of a list that are named; the rest are counted. */
const LISTED = 25;

/**
 * The working of a line, as one would write it out on paper: the formula, the formula with figures and units put in, what it
 * gives; its steps; what it draws on and what draws on it, each a link; the source, published range and cautions of the
 * brewing functions in it; its note.
 *
 * @element gyle-working
 * @prop session - the book's session
 * @prop name - full name of the line or column, `mash.mash_ratio`
 * @fires gyle-go - the reader wants to go to another line: `detail.name`
 * @fires gyle-say - a mend was refused or changed a kind
 * @csspart paper - formula, figures and result
 */
export class GyleWorking extends LitElement {
  static override properties = { session: { attribute: false }, name: {} };
  static override styles = [base, workingStyles];

  declare session: Session | null;
  declare name: string;

  readonly #watch = new SessionWatch(this);

  constructor() {
    super();
    this.session = null;
    this.name = "";
  }

  protected override willUpdate(): void {
    this.#watch.watch(this.session);
  }

  protected override render() {
    const { session, name } = this;
    const working = session === null ? null : workingOf(session.model, session.lens, name);
    if (session === null || working === null) return nothing;
    return html`<h3>${whole(working.label)}</h3>
      <p class="name">${working.name}</p>
      ${this.#standing(session, working)}
      <dl class="paper" part="paper">
        ${row("Formula", working.formula)}
        ${working.withFigures === null ? nothing : row("With the figures put in", working.withFigures)}
        ${working.shown === "" ? nothing : html`<div><dt>Gives</dt><dd class="gives">${whole(working.shown)}</dd></div>`}
      </dl>
      ${working.note === null ? nothing : html`<h4>Note</h4><p class="note">${whole(working.note)}</p>`}
      ${working.cautions.map((caution) => html`<p class="caution">${cautionShape} ${whole(wordCaution(caution))}</p>`)}
      ${this.#steps(working)}
      ${this.#links("Draws on", working.drawsOn)}
      ${this.#links("Draws on this", working.feeds)}
      ${working.functions.map((each) => functionOf(each, working))}`;
  }

  /** Why there is no figure, with the way to the cause. */
  #standing(session: Session, working: Working) {
    const cell = session.cell(working.name);
    if (cell === null || working.state === "ready") return nothing;
    if (working.state === "waiting") {
      const open = cell.blank !== null;
      if (open) return html`<p class="says waiting">a reading to be taken</p>`;
      return html`<div><span class="says waiting">waits for</span>
        <ul class="links">${cell.waitingFor.slice(0, LISTED).map((each) => html`<li>${goLink(this, session, each, true)}</li>`)}</ul>
        ${and(cell.waitingFor.length - LISTED)}
        ${cell.tooFew === null ? nothing : html`<p>${whole(cell.tooFew)}</p>`}</div>`;
    }
    if (cell.because !== null)
      return html`<p><span class="says faulty">faulty because of</span> ${goLink(this, session, cell.because)}</p>`;
    return faultsOf(cell, (formula, label) =>
      apply(this, session, { edit: "set-formula", cell: working.name, formula }, label),
    );
  }

  #steps({ steps }: Working) {
    if (steps.length === 0) return nothing;
    return html`<h4>Step by step</h4>
      <ol>${steps.map(
        ({
          withFigures,
          shown,
          usual,
        }) => html`<li><code>${whole(withFigures)}</code>${shown === "" ? nothing : html` gives <b class="figures">${whole(shown)}</b>`}
          ${usual.length === 0 ? nothing : html`<p class="usual">taken as usual: ${whole(usual.join(", "))}</p>`}</li>`,
      )}</ol>`;
  }

  #links(heading: string, links: readonly Link[]) {
    if (links.length === 0) return nothing;
    return html`<h4>${heading}</h4>
      <ul class="links">${links.slice(0, LISTED).map(
        ({
          name,
          label,
          shown,
          state,
        }) => html`<li><button class="link" title=${name} @click=${() => tell(this, "gyle-go", { name })}>${whole(label)}</button>
          <span class="figures ${state}">${state === "ready" ? whole(shown) : state}</span></li>`,
      )}</ul>
      ${and(links.length - LISTED)}`;
  }
}

/** What is not listed. */
const and = (more: number) => (more > 0 ? html`<p class="small">and ${more} more</p>` : nothing);

const row = (term: string, text: string) =>
  text === "" ? nothing : html`<div><dt>${term}</dt><dd>${whole(text)}</dd></div>`;

const about = (term: string, text: string | undefined) =>
  text === undefined || text === "" ? nothing : html`<dt>${term}</dt><dd>${named(text)}</dd>`;

/** What is to be known of a brewing function. Its caution stands here where the line itself does not carry it. */
function functionOf(
  { name, says, source, range, error, caution }: LibraryFunction,
  { cautions }: Working,
): TemplateResult {
  const told = cautions.some(({ data }) => "says" in data && data.says === caution?.says);
  return html`<section aria-label=${name}>
    <h4><code>${name}</code></h4>
    <p class="small">${named(says)}</p>
    <dl>${about("Source", source)}${about("Holds for", range)}${about("Known error", error)}</dl>
    ${caution === undefined || told ? nothing : html`<p class="caution">${cautionShape} ${named(caution.says)}</p>`}
  </section>`;
}

customElements.define("gyle-working", GyleWorking);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-working": GyleWorking;
  }
}
