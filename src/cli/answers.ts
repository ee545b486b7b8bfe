import type { Answer, Question } from "../store/index.ts";
import { RefusedError, UsageError } from "./error.ts";
import { wrapped } from "./aligned-table.ts";

/** Answers typed as `--answer "ID=CHOICE"` or `--answer "ID=CHOICE: why"`, by the question's id. */
export function answersTyped(
  typed: readonly (string | boolean)[] | string | boolean | undefined,
): Record<string, Answer> {
  const list = Array.isArray(typed) ? typed.map(String) : typed === undefined ? [] : [String(typed)];
  return Object.fromEntries(
    list.map((text) => {
      const match = /^([^=]+)=([^:]+?)(?::\s*(.*))?$/s.exec(text);
      if (!match) throw new UsageError(`--answer ${text}: expected ID=CHOICE, or "ID=CHOICE: why".`);
      const [, id, choice, note] = match;
      return [id.trim(), note === undefined ? choice.trim() : { choice: choice.trim(), note }];
    }),
  );
}

/** Says what is asked and how to answer; nothing has been written. */
export function askedError(questions: readonly Question[], width: number): RefusedError {
  const asked = questions.map(({ id, text, choices }) =>
    [
      wrapped(text, width),
      ...choices.map(({ id: choice, label, needsNote }) =>
        wrapped(`  --answer "${id}=${choice}${needsNote ? ": why" : ""}"  ${label}`, width, {
          indent: "      ",
        }),
      ),
    ].join("\n"),
  );
  return new RefusedError(
    [...asked, "Nothing was written. Call again with an answer to each question."].join("\n\n"),
  );
}
