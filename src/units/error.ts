import { listed } from "./listed.ts";
import type { Quantity } from "./quantity.ts";

/** One way to read a text that can be read in more than one way. */
export interface Choice {
  /** What to type to mean this. */
  readonly write: string;
  /** What that is, in words or in the other system. */
  readonly meaning: string;
  /** The quantity itself (in unit 1 where a bare number was read); null where only a unit was in question. */
  readonly quantity: Quantity | null;
}

/**
 * Why a text, a unit or a pair of quantities was refused. `ambiguous`: it can be read in more than one way, and
 * `choices` holds the ways. `unreadable`: it is no number or no known unit. `mismatch`: a unit of another dimension
 * than was expected. `not-computable`: the numbers themselves (infinite, or a sum of temperatures).
 */
export type UnitErrorReason = "ambiguous" | "unreadable" | "mismatch" | "not-computable";

/** A quantity that was refused: the message says what was given, what was expected and how to mend it. */
export class UnitError extends Error {
  override readonly name = "UnitError";
  readonly reason: UnitErrorReason;
  /** The possible readings of an ambiguous text, or what was probably meant; empty where there is nothing to offer. */
  readonly choices: readonly Choice[];

  constructor(reason: UnitErrorReason, message: string, choices: readonly Choice[] = []) {
    super(message);
    this.reason = reason;
    this.choices = choices;
  }
}

/** What came of reading a text: a value, a question with the possible readings, or a refusal with its reason. */
export type Answer<T> =
  | { readonly kind: "value"; readonly value: T }
  | { readonly kind: "question"; readonly question: string; readonly choices: readonly Choice[] }
  | {
      readonly kind: "refused";
      readonly reason: Exclude<UnitErrorReason, "ambiguous">;
      readonly message: string;
      readonly choices: readonly Choice[];
    };

export function answered<T>(value: T): Answer<T> {
  return { kind: "value", value };
}

/** A question ends with how to write each reading, so that the message alone is enough. */
export function asked(what: string, choices: readonly Choice[]): Answer<never> {
  return { kind: "question", question: `${what} ${howToWrite(choices)}`, choices };
}

export function refused(
  reason: Exclude<UnitErrorReason, "ambiguous">,
  message: string,
  choices: readonly Choice[] = [],
): Answer<never> {
  return { kind: "refused", reason, message, choices };
}

/** The value of an answer; a question or a refusal becomes a {@link UnitError} with the same words. */
export function valueOrThrow<T>(answer: Answer<T>): T {
  if (answer.kind === "value") return answer.value;
  if (answer.kind === "question") throw new UnitError("ambiguous", answer.question, answer.choices);
  throw new UnitError(answer.reason, answer.message, answer.choices);
}

function howToWrite(choices: readonly Choice[]): string {
  const ways = choices.map((choice) => `"${choice.write}" for ${choice.meaning}`);
  return `Write ${listed(ways, "or")}.`;
}
