/** One answer that can be given. */
export interface Choice {
  /** What is handed back: a word, a header, a unit or an instant. */
  readonly value: string;
  /** What the button says. */
  readonly label: string;
}

/** What the data cannot decide and a person must, before anything is read. */
export interface Question {
  /** Stable: the same doubt has the same name in tomorrow's export. `date-order:Taken`. */
  readonly about: string;
  /** The question in the brewer's words. */
  readonly asks: string;
  readonly choices: readonly Choice[];
  /** Whether another answer than the choices may be typed. */
  readonly free: boolean;
  /** Why the data do not decide it. */
  readonly why: string;
  /** Entries that show it, each with its line: `line 7: 03/04/2026`. */
  readonly examples: readonly string[];
  /** The likelier choice, to stand first; it is never taken unasked. */
  readonly likely: string | null;
}

/** A question that the data decide, and how: it is not asked, and may be answered otherwise. */
export interface Settled {
  readonly question: Question;
  /** The answer that holds, the data's or the one that was given instead. */
  readonly value: string;
}

/** Answers by `about`. */
export type Answers = Readonly<Record<string, string>>;

/** A decision that the data allow, with what they say for it. */
export interface Proposal<T> {
  readonly value: T;
  /** False: the alternatives fit the data as well. */
  readonly certain: boolean;
  readonly evidence: string;
  readonly alternatives: readonly T[];
}

export const choice = (value: string, label = value): Choice => ({ value, label });

/** Makes a question; what is left out has its usual value. */
export function question(
  about: string,
  asks: string,
  choices: readonly Choice[],
  rest: {
    readonly why: string;
    readonly examples?: readonly string[];
    readonly likely?: string | null;
    readonly free?: boolean;
  },
): Question {
  return {
    about,
    asks,
    choices,
    free: rest.free ?? false,
    why: rest.why,
    examples: rest.examples ?? [],
    likely: rest.likely ?? null,
  };
}

/** The answer to a question when one of its choices (or, where that is free, anything) was given; else null. */
export function answerTo(asked: Question, answers: Answers): string | null {
  const given = Object.hasOwn(answers, asked.about) ? answers[asked.about] : undefined;
  if (given === undefined) return null;
  return asked.free || asked.choices.some((one) => one.value === given) ? given : null;
}

/** An answer that comes to nothing, and the question that it would be one to: null where that is not asked. */
export interface IdleAnswer {
  readonly about: string;
  readonly value: string;
  readonly asked: Question | null;
}

/** The answers that come to nothing: to what is not asked, and with what is none of its choices. */
export const idleAnswers = (answers: Answers, all: readonly Question[]): IdleAnswer[] =>
  Object.entries(answers).flatMap(([about, value]) => {
    const asked = all.find((one) => one.about === about) ?? null;
    return asked !== null && answerTo(asked, answers) !== null ? [] : [{ about, value, asked }];
  });

/** Gathers what is asked while a mapping is worked out, and answers from what is already known. */
export class Asking {
  readonly open: Question[] = [];
  readonly answered: Question[] = [];
  readonly settled: Settled[] = [];
  readonly notes: string[] = [];
  readonly #answers: Answers;
  readonly #drawnOn: string[] = [];

  constructor(answers: Answers) {
    this.#answers = answers;
  }

  /** The answer, or null after noting that the question is open. */
  ask(asked: Question): string | null {
    const answer = answerTo(asked, this.#answers);
    (answer === null ? this.open : this.answered).push(asked);
    return answer;
  }

  /** What the data decide, unless it was answered otherwise. */
  settle(asked: Question, decided: string): string {
    const answer = answerTo(asked, this.#answers);
    if (answer !== null) this.#drawnOn.push(asked.about);
    const value = answer ?? decided;
    this.settled.push({ question: asked, value });
    return value;
  }

  /** Opens a question again whose answer cannot be used, with the sentence that says so. */
  refuse(asked: Question, says: string): void {
    const isOther = (one: Question): boolean => one.about !== asked.about;
    this.answered.splice(0, this.answered.length, ...this.answered.filter(isOther));
    this.settled.splice(0, this.settled.length, ...this.settled.filter(({ question: one }) => isOther(one)));
    this.open.push(asked);
    this.note(says);
  }

  note(says: string): void {
    if (!this.notes.includes(says)) this.notes.push(says);
  }

  /** The answer that was given to a question, whether it is asked or not; null for none. */
  given(about: string): string | null {
    return (Object.hasOwn(this.#answers, about) ? this.#answers[about] : undefined) ?? null;
  }

  /** The answers that were drawn on. */
  drawnOn(): Answers {
    const drawnOn = [...this.answered.map(({ about }) => about), ...this.#drawnOn];
    return Object.fromEntries(drawnOn.map((about) => [about, this.#answers[about] ?? ""]));
  }
}
