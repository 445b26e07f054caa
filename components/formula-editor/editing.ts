import {
  acceptCompletion,
  autocompletion,
  type Completion,
  type CompletionContext,
  type CompletionResult,
  closeBrackets,
  closeBracketsKeymap,
  closeCompletion,
  completionStatus,
  currentCompletions,
  insertBracket,
  moveCompletionSelection,
  pickedCompletion,
  selectedCompletionIndex,
  startCompletion,
} from "@codemirror/autocomplete";
import { defaultKeymap, history, historyKeymap, insertNewline } from "@codemirror/commands";
import { bracketMatching } from "@codemirror/language";
import { EditorState, type Extension, type Range, StateEffect, StateField, type Transaction } from "@codemirror/state";
import { type Command, Decoration, type DecorationSet, EditorView, keymap, tooltips } from "@codemirror/view";
import {
  applyMend,
  type Context,
  complete,
  type Mend,
  type Preview,
  preview as previewOf,
  type Session,
} from "../../engine/index.ts";

/** What the engine tells of a formula while it is typed. */
export interface Engine {
  readonly session: Session;
  readonly context: Context;
}

/** What the editor does with keys that are not for the text, and what its list keeps clear of. */
export interface Deeds {
  readonly beneath: () => Element | null;
  readonly keep: () => void;
  readonly leave: () => void;
}

/** A formula as it stands in the editor, looked at by the engine. */
interface Look {
  readonly preview: Preview;
  readonly marks: DecorationSet;
}

/** Asks for another look where the book changed and the text did not. */
export const lookAgain = StateEffect.define<null>();

/** The field that holds the engine's look at the text; colours and underlines are drawn from it. */
export type LookField = StateField<Look>;

function lookAt({ session, context }: Engine, state: EditorState): Look {
  const text = state.doc.toString();
  const preview = previewOf(session.model, session.lens, context, text);
  const marks: Range<Decoration>[] = session
    .tokens(text)
    .map(({ span, is }) => Decoration.mark({ class: `is-${is}` }).range(span.start, span.end));
  for (const { span } of preview.faults) {
    // What is missing at a place is marked at its neighbour.
    const start = Math.min(span.start, Math.max(0, text.length - 1));
    const end = Math.min(Math.max(span.end, start + 1), text.length);
    if (end > start) marks.push(Decoration.mark({ class: "is-fault" }).range(start, end));
  }
  return { preview, marks: Decoration.set(marks, true) };
}

export const createLookField = (engine: () => Engine): LookField =>
  StateField.define<Look>({
    create: (state) => lookAt(engine(), state),
    update: (look, { docChanged, effects, state }) =>
      docChanged || effects.some((effect) => effect.is(lookAgain)) ? lookAt(engine(), state) : look,
    provide: (field) => EditorView.decorations.from(field, ({ marks }) => marks),
  });

/** The list of what may stand at the cursor. It opens while a word is typed, and on Ctrl-Space. */
const completions =
  (engine: () => Engine) =>
  ({ state, pos, explicit }: CompletionContext): CompletionResult | null => {
    const { session, context } = engine();
    const text = state.doc.toString();
    const { from, to, options } = complete(session.model, context, text, pos);
    if (options.length === 0 || (from === to && !explicit)) return null;
    const typed = text.slice(from, to);
    // A word that is written out wants no list with itself in it.
    if (!explicit && options.length === 1 && options[0]?.insert === typed) return null;
    return {
      from,
      to,
      filter: false,
      options: options.map(
        ({ label, insert, detail, kind }): Completion => ({
          label,
          apply: kind === "function" ? callOf(label) : insert,
          detail,
          type: kind,
        }),
      ),
    };
  };

/** Puts in a function's name and parentheses, and lists its arguments; a name that is exchanged keeps those it has. */
const callOf =
  (name: string) =>
  (view: EditorView, option: Completion, from: number, to: number): void => {
    const called = view.state.sliceDoc(to, to + 1) === "(";
    view.dispatch({
      changes: { from, to, insert: name },
      selection: { anchor: from + name.length + (called ? 1 : 0) },
      annotations: pickedCompletion.of(option),
      userEvent: "input.complete",
    });
    if (called) return;
    const { head } = view.state.selection.main;
    view.dispatch(
      insertBracket(view.state, "(") ?? { changes: { from: head, insert: "(" }, selection: { anchor: head + 1 } },
    );
    startCompletion(view);
  };

/** Parentheses and quotes close themselves. */
const closing = EditorState.languageData.of(() => [{ closeBrackets: { brackets: ["(", '"'] } }]);

/** Takes the first of the list, or the one that was chosen. */
const takeListed: Command = (view) => {
  if (completionStatus(view.state) !== "active" || currentCompletions(view.state).length === 0) return false;
  if (selectedCompletionIndex(view.state) === null || selectedCompletionIndex(view.state) === -1)
    moveCompletionSelection(true)(view);
  return acceptCompletion(view);
};

/** Closes the list where it is open; one that is only being looked up keeps nobody from leaving. */
const putListAway: Command = (view) => completionStatus(view.state) === "active" && closeCompletion(view);

/** A list lower than this shows too little beneath what is told; it then stands above the line in hand. In pixels. */
const LOWEST_LIST = 150;

/**
 * Puts the list beneath what is told of the formula, or above the line, so that neither hides the other, and into the
 * order of focus, so that a list that scrolls can be reached by every reader. Done anew each time that it is drawn.
 */
const placedList = (beneath: () => Element | null): Extension => {
  const key = {};
  return EditorView.updateListener.of(({ view }) => {
    view.dom.querySelector(".cm-tooltip-autocomplete > ul")?.setAttribute("tabindex", "0");
    if (completionStatus(view.state) !== "active") return;
    view.requestMeasure({
      key,
      read: () => {
        const list = view.dom.querySelector<HTMLElement>(".cm-tooltip-autocomplete");
        const line = view.coordsAtPos(view.state.selection.main.head);
        const told = beneath()?.getBoundingClientRect();
        if (list === null || line === null || told === undefined) return { list, away: 0 };
        if (innerHeight - told.bottom >= LOWEST_LIST) return { list, away: Math.max(0, told.bottom - line.bottom) };
        const { height } = list.getBoundingClientRect();
        return { list, away: line.top >= height ? line.top - line.bottom - height : 0 };
      },
      write: ({ list, away }) => {
        if (list !== null) list.style.marginBlockStart = `${away}px`;
      },
    });
  });
};

/** While one types, what is wrong further on is most likely not yet written: it is underlined, and only counted. */
export const TOLD_FAULTS = 2;

export const toldFaults = ({ faults }: Preview): Preview["faults"] => faults.slice(0, TOLD_FAULTS);

/** The mends that can be made, in the order of the faults that are told. */
export const mendsOf = (preview: Preview): readonly Mend[] => toldFaults(preview).flatMap(({ mends }) => mends);

/** Makes a mend as a change that can be undone; the cursor goes behind it. */
export function makeMend(view: EditorView, mend: Mend): void {
  const before = view.state.doc.toString();
  const after = applyMend(before, mend);
  const last = mend.replace.at(-1);
  const cursor = last === undefined ? after.length : after.length - (before.length - last.span.end);
  view.dispatch({
    changes: { from: 0, to: before.length, insert: after },
    selection: { anchor: cursor },
    userEvent: "input.mend",
  });
  view.focus();
}

/**
 * Text that comes by no key (a phone's keyboard, dictation) over selected text, and the taking away of it, are done here:
 * the browser would carry the look of what it replaces over as inline style, which the page's policy refuses.
 */
const overSelected = EditorView.domEventHandlers({
  beforeinput({ inputType, data, isComposing }, view) {
    const { from, to, empty } = view.state.selection.main;
    const text = inputType === "insertText" ? data : inputType.startsWith("delete") ? "" : null;
    if (empty || isComposing || text === null) return false;
    const userEvent = text === "" ? "delete.selection" : "input.type";
    const put = (): Transaction =>
      view.state.update(view.state.replaceSelection(text), { userEvent, scrollIntoView: true });
    const { inputHandler } = EditorView;
    if (text === "" || !view.state.facet(inputHandler).some((handle) => handle(view, from, to, text, put)))
      view.dispatch(put());
    return true;
  },
});

/** The key that makes the first mend. */
export const MEND_KEY = "F2";

export function editingExtensions(engine: () => Engine, look: LookField, deeds: Deeds): Extension {
  const firstMend: Command = (view) => {
    const [mend] = mendsOf(view.state.field(look).preview);
    if (mend !== undefined) makeMend(view, mend);
    return mend !== undefined;
  };
  const chosen: Command = (view) => (selectedCompletionIndex(view.state) ?? -1) >= 0 && acceptCompletion(view);
  const done =
    (deed: () => void): Command =>
    () => {
      deed();
      return true;
    };
  return [
    look,
    history(),
    bracketMatching(),
    closeBrackets(),
    closing,
    EditorView.lineWrapping,
    overSelected,
    tooltips({ position: "fixed" }),
    placedList(deeds.beneath),
    // Nothing is chosen until the reader chooses: Enter keeps the formula and never takes a word unasked.
    autocompletion({
      override: [completions(engine)],
      defaultKeymap: false,
      selectOnOpen: false,
      icons: false,
      interactionDelay: 0,
    }),
    keymap.of([
      { key: "ArrowDown", run: moveCompletionSelection(true) },
      { key: "ArrowUp", run: moveCompletionSelection(false) },
      { key: "PageDown", run: moveCompletionSelection(true, "page") },
      { key: "PageUp", run: moveCompletionSelection(false, "page") },
      { key: "Ctrl-Space", run: startCompletion },
      { key: "Tab", run: takeListed },
      {
        key: "Enter",
        run: (view) => chosen(view) || done(deeds.keep)(view),
        shift: insertNewline,
        stopPropagation: true,
      },
      { key: "Escape", run: (view) => putListAway(view) || done(deeds.leave)(view), stopPropagation: true },
      { key: MEND_KEY, run: firstMend, preventDefault: true },
      ...closeBracketsKeymap,
      ...historyKeymap,
      ...defaultKeymap,
    ]),
  ];
}
