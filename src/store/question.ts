/** One way to answer a question. */
export interface Choice {
  readonly id: string;
  readonly label: string;
  /** True where the answer must come with a few words of reason, which are kept. */
  readonly needsNote: boolean;
  /** What the reading becomes, where the choice mends it. */
  readonly mend: { readonly value: number; readonly unit: string; readonly text: string } | null;
}

/** Something that can be read in more than one way, or looks wrong: asked about, never guessed. Nothing is written before. */
export interface Question {
  /** Stable: the same matter has the same id when it is asked again. */
  readonly id: string;
  readonly kind:
    | "unit-slip"
    | "outlier"
    | "separator"
    | "decimal-sign"
    | "unit"
    | "column"
    | "repeat-or-replicate"
    | "which-run"
    | "cut-otherwise";
  /** The whole question in plain words, with the numbers. */
  readonly text: string;
  readonly line: number | null;
  readonly run: number | null;
  readonly field: string;
  readonly choices: readonly Choice[];
}

/** The chosen way, by the choice's id, with the note where one is needed. */
export type Answer = string | { readonly choice: string; readonly note?: string };

/** Answers by the id of the question. */
export type Answers = Readonly<Record<string, Answer>>;

export function choice(
  id: string,
  label: string,
  options: Partial<Omit<Choice, "id" | "label">> = {},
): Choice {
  const { needsNote = false, mend = null } = options;
  return { id, label, needsNote, mend };
}

/** The choice that was made, with its note; null where the question is still open, `problem` where the answer is no answer. */
export function chosen(
  question: Question,
  answers: Answers,
): { readonly choice: Choice; readonly note: string } | { readonly problem: string } | null {
  if (!Object.hasOwn(answers, question.id)) return null;
  const given = answers[question.id];
  const { choice: id, note = "" } = typeof given === "string" ? { choice: given } : given;
  const found = question.choices.find((candidate) => candidate.id === id);
  if (found === undefined) {
    const known = question.choices.map((candidate) => candidate.id).join(", ");
    return { problem: `"${id}" is no answer to: ${question.text} Answer with one of ${known}.` };
  }
  if (found.needsNote && note.trim() === "") {
    return { problem: `"${found.label}" needs a note that says why. It was asked: ${question.text}` };
  }
  return { choice: found, note: note.trim() };
}
