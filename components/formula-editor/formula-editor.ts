import { EditorState } from "@codemirror/state";
import { EditorView } from "@codemirror/view";
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from "lit";
import {
  type Completion,
  type Context,
  complete,
  type Preview,
  type Session,
  wordCaution,
} from "../../engine/index.ts";
import { labelOf } from "../actions/apply.ts";
import { SessionWatch } from "../controllers/session-watch.ts";
import { tell } from "../events.ts";
import { base } from "../look/base.ts";
import { formulaDraft, setFormulaDraft } from "../text/formula-drafts.ts";
import { named } from "../text/named.ts";
import { waitsInWords } from "../text/standing.ts";
import {
  createLookField,
  editingExtensions,
  type LookField,
  lookAgain,
  MEND_KEY,
  makeMend,
  mendsOf,
  TOLD_FAULTS,
  toldFaults,
} from "./editing.ts";
import { formulaEditorStyles } from "./formula-editor-styles.ts";
import { oneStatement } from "./statement.ts";

/** A pause in typing after which a screen reader is told what has come of it, in milliseconds. */
const PAUSE = 700;

/**
 * The formula editor. It colours, completes, names the argument in hand, and tells the result or the fault while one types;
 * what a fault is about is underlined, and F2 makes the first mend. Enter keeps the formula, a faulty one too; Escape leaves
 * it as it was. Tab takes the first word of the list. It takes the focus when it appears. What is written and neither kept
 * nor left is there again when an editor of the same formula comes back. With it comes a text editor of
 * about 110 kB, so load this module when it is first wanted.
 *
 * @element gyle-formula-editor
 * @prop session - the book's session; it is asked, never changed
 * @prop context - where the formula stands: its sheet, its line or null, its table
 * @prop formula - the formula with its tail, as it is edited
 * @prop calm - it does not take the focus when it appears
 * @attr aria-label - what the field is called: "Formula of Mash ratio"
 * @fires gyle-keep - the formula is to be kept: `detail.formula`
 * @fires gyle-leave - the editor is left and the formula stays as it was
 * @csspart field - the text field
 * @csspart below - what is told beneath it
 */
export class GyleFormulaEditor extends LitElement {
  static override properties = {
    session: { attribute: false },
    context: { attribute: false },
    formula: {},
    calm: { type: Boolean },
    label: { attribute: "aria-label" },
    preview: { state: true },
    argument: { state: true },
    said: { state: true },
  };
  static override styles = [base, formulaEditorStyles];

  declare session: Session | null;
  declare context: Context;
  declare formula: string;
  declare calm: boolean;
  declare label: string;
  /** What the text would come to as it now stands. */
  declare preview: Preview | null;
  declare argument: Completion["argument"];
  /** What a screen reader is told after a pause. */
  declare said: string;

  readonly #watch = new SessionWatch(this, () => {
    this.#view?.dispatch({ effects: lookAgain.of(null) });
    return false;
  });
  #view: EditorView | null = null;
  #look: LookField | null = null;
  #pause: ReturnType<typeof setTimeout> | undefined;

  constructor() {
    super();
    this.session = null;
    this.context = { sheet: "", cell: null };
    this.formula = "";
    this.calm = false;
    this.label = "Formula";
    this.preview = null;
    this.argument = null;
    this.said = "";
  }

  override connectedCallback(): void {
    super.connectedCallback();
    if (!this.hasAttribute("role")) this.setAttribute("role", "group");
    if (this.hasUpdated) this.#open();
  }

  override disconnectedCallback(): void {
    clearTimeout(this.#pause);
    this.#view?.destroy();
    this.#view = null;
    super.disconnectedCallback();
  }

  override focus(): void {
    this.#view?.focus();
  }

  /** The text as it now stands in the field. */
  get text(): string {
    return this.#view?.state.doc.toString() ?? this.formula;
  }

  protected override willUpdate(): void {
    this.#watch.watch(this.session);
  }

  protected override updated(changed: PropertyValues): void {
    if (
      this.session !== null &&
      (this.#view === null || changed.has("session") || changed.has("context") || changed.has("formula"))
    )
      this.#open();
    // It grows by what is told: its buttons stay in view while one types, and its list has room beneath.
    if (changed.has("preview") && this.#view?.hasFocus === true) this.scrollIntoView({ block: "nearest" });
  }

  /** Opens the field on the formula, whatever stood in it before. */
  #open(): void {
    const { session } = this;
    const parent = this.renderRoot.querySelector(".field");
    if (session === null || parent === null) return;
    const known = this.#view;
    const doc = formulaDraft(session, this.context) ?? this.formula;
    if (known !== null && known.state.doc.toString() === doc && this.#session === session) return;
    known?.destroy();
    this.#session = session;
    const engine = () => ({ session: this.session ?? session, context: this.context });
    const look = createLookField(engine);
    this.#look = look;
    this.#view = new EditorView({
      root: this.shadowRoot ?? document,
      parent,
      state: EditorState.create({
        doc,
        selection: { anchor: doc.length },
        extensions: [
          editingExtensions(engine, look, {
            beneath: () => this.renderRoot.querySelector("#below"),
            keep: () => this.#keep(),
            leave: () => this.#leave(),
          }),
          EditorView.contentAttributes.of({
            "aria-label": this.label,
            "aria-describedby": "below",
            spellcheck: "false",
            autocorrect: "off",
            autocapitalize: "off",
            enterkeyhint: "done",
          }),
          EditorView.updateListener.of((update) => {
            if (update.docChanged) this.#draft(this.text === this.formula ? null : this.text);
            if (update.docChanged || update.selectionSet || update.startState.field(look) !== update.state.field(look))
              this.#tell();
          }),
        ],
      }),
    });
    if (!this.calm) this.#view.focus();
    // What is told beneath is drawn once the field itself is.
    void this.updateComplete.then(() => this.#tell());
  }

  #session: Session | null = null;

  /** Tells beneath the field what the text comes to and which argument is in hand. */
  #tell(): void {
    const view = this.#view;
    if (view === null || this.#look === null || this.session === null) return;
    const { state } = view;
    this.preview = state.field(this.#look).preview;
    this.argument = complete(
      this.session.model,
      this.context,
      state.doc.toString(),
      state.selection.main.head,
    ).argument;
    clearTimeout(this.#pause);
    this.#pause = setTimeout(() => {
      this.said = this.preview === null || this.session === null ? "" : inWords(this.session, this.preview);
    }, PAUSE);
  }

  #draft(text: string | null): void {
    if (this.session !== null) setFormulaDraft(this.session, this.context, text);
  }

  #keep(): void {
    this.#draft(null);
    tell(this, "gyle-keep", { formula: oneStatement(this.text) });
  }

  #leave(): void {
    this.#draft(null);
    tell(this, "gyle-leave", undefined);
  }

  protected override render() {
    return html`<div class="field" part="field"></div>
      <div class="below" part="below" id="below">${this.#argument()}${this.preview === null || this.session === null ? nothing : this.#told(this.session, this.preview)}</div>
      <div class="buttons">
        <button class="edged" @click=${() => this.#keep()}>Keep<kbd>Enter</kbd></button>
        <button class="edged" @click=${() => this.#leave()}>Leave as it was<kbd>Esc</kbd></button>
      </div>
      <p class="unseen" role="status">${this.said}</p>`;
  }

  #argument() {
    const hand = this.argument;
    if (hand === null) return nothing;
    const { function: of, argument } = hand;
    const names = of.arguments.map(
      ({ name, usual }, at) =>
        html`${at === 0 ? nothing : ", "}${at === hand.index ? html`<mark>${name}</mark>` : usual === null ? name : html`<i>${name}</i>`}`,
    );
    const usual = argument?.usual ? ` Usually ${argument.usual}.` : "";
    return html`<p class="argument"><code>${of.name}(${names})</code> ${named(argument === null ? of.says : `${argument.says} ${argument.takes}${usual}`)}</p>`;
  }

  #told(session: Session, preview: Preview): TemplateResult {
    const [first] = mendsOf(preview);
    if (preview.faults.length > 0) {
      const more = preview.faults.length - TOLD_FAULTS;
      return html`${toldFaults(preview).map(
        ({ message, mends }) => html`<div class="faulty"><p><span class="unseen">faulty: </span>${message}</p>
          ${mends.map((mend) => html`<button class="edged" @click=${() => this.#view && makeMend(this.#view, mend)}>${mend.label}${mend === first ? html`<kbd>${MEND_KEY}</kbd>` : nothing}</button>`)}</div>`,
      )}${more > 0 ? html`<p class="kind">and ${more} more further on</p>` : nothing}`;
    }
    const kind = html`<span class="kind">${preview.kindName}</span>`;
    if (preview.because !== null)
      return html`<p class="faulty">faulty because of ${labelOf(session, preview.because)}</p>`;
    if (preview.state === "waiting")
      return html`<p><span class="waiting">${waitingWords(session, preview)}</span> ${kind}</p>`;
    return html`<p class="gives">gives <b>${preview.shown}</b> ${kind}</p>
      ${preview.cautions.map((caution) => html`<p class="waiting">${wordCaution(caution)}</p>`)}`;
  }
}

const waitingWords = (session: Session, preview: Preview): string =>
  preview.waitingFor.length === 0 ? "a reading to be taken" : waitsInWords(session, preview);

/** The look at a formula in a sentence or two. */
function inWords(session: Session, preview: Preview): string {
  if (preview.faults.length > 0) {
    const [mend] = mendsOf(preview);
    const mended = mend === undefined ? "" : ` ${MEND_KEY}: ${mend.label}.`;
    return `Faulty: ${toldFaults(preview)
      .map(({ message }) => message)
      .join(" ")}${mended}`;
  }
  if (preview.because !== null) return `Faulty because of ${labelOf(session, preview.because)}.`;
  if (preview.state === "waiting") return `${waitingWords(session, preview)}.`;
  return [`Gives ${preview.shown}.`, ...preview.cautions.map(wordCaution)].join(" ");
}

customElements.define("gyle-formula-editor", GyleFormulaEditor);

declare global {
  interface HTMLElementTagNameMap {
    "gyle-formula-editor": GyleFormulaEditor;
  }
}
