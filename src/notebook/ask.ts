import {
  parseNumber,
  parseQuantity,
  UnitError,
  type Dimension,
  type DimensionOf,
  type Quantity,
  type UnitName,
} from "../units/index.ts";
import type { AskEntry } from "./entry.ts";
import { notebookError } from "./error.ts";

/** The dimension of a quantity written as text, "0.8 µm" being a length; every dimension where the compiler can't tell. */
export type DimensionOfText<Text extends string> = Text extends `${string} ${infer Unit}`
  ? Unit extends UnitName
    ? DimensionOf<Unit>
    : Dimension
  : Dimension;

/** A quantity with the text that it was typed as, for captions and sentences. */
export type AskedQuantity<D extends Dimension = Dimension> = Quantity<D> & { readonly text: string };

/** Questions to the reader. Each takes the answer given on the bench, else the default, and shows on the page what was used. */
export interface Ask {
  /** A quantity, typed with its unit ("0.8 µm", "31 µin"); without one it is taken to be in the default's unit. */
  readonly quantity: <const Text extends string>(
    label: string,
    options: { readonly default: Text },
  ) => AskedQuantity<DimensionOfText<Text>>;
  /** A plain number, with the least and the greatest that make sense. */
  readonly number: (
    label: string,
    options: { readonly default: number; readonly low?: number; readonly high?: number },
  ) => number;
  /** One of several texts; the first where no default is named. */
  readonly choice: <const Choice extends string>(
    label: string,
    options: { readonly choices: readonly Choice[]; readonly default?: NoInfer<Choice> },
  ) => Choice;
  readonly yesNo: (label: string, options: { readonly default: boolean }) => boolean;
}

/** Answers by the question's label, as typed. */
export type Answers = Readonly<Record<string, string>>;

type Parsed<Value> = { readonly value: Value; readonly text: string };
type Shape =
  | { readonly ask: "quantity"; readonly unit: string }
  | { readonly ask: "number" }
  | { readonly ask: "choice"; readonly choices: readonly string[] }
  | { readonly ask: "yes-no" };

/**
 * The questions of one page. An answer that can't be taken is refused in its place, the default is used, and the entry says so; a
 * default that can't be taken is the notebook's own fault and is thrown.
 */
export function createAsk(answers: Answers, add: (entry: AskEntry) => void): Ask {
  const asked = new Set<string>();

  function answerTo<Value>(
    label: string,
    shape: Shape,
    byDefault: Parsed<Value>,
    parse: (typed: string) => Parsed<Value>,
  ): Value {
    if (label.trim() === "")
      throw notebookError("page.ask: a question needs a label, because its answer is kept under it.");
    if (asked.has(label)) {
      throw notebookError(
        `page.ask: "${label}" is asked twice on this page. Answers are kept by label; give each question its own.`,
      );
    }
    asked.add(label);
    const typed = Object.hasOwn(answers, label) ? answers[label] : undefined;
    let used = byDefault;
    let refusal = "";
    if (typed !== undefined && typed.trim() !== "") {
      try {
        used = parse(typed);
      } catch (error) {
        refusal = `"${typed}" can't be taken: ${error instanceof Error ? error.message : String(error)} The default, ${byDefault.text}, is used.`;
      }
    }
    // The parsed text of a yes-no question is one of the two words; the other shapes take any text.
    add({ kind: "ask", label, refusal, answer: used.text, ...shape } as AskEntry);
    return used.value;
  }

  return {
    quantity<const Text extends string>(label: string, options: { readonly default: Text }) {
      const start = defaultQuantity(label, options.default);
      const asked = (value: Quantity, typed: string): Parsed<AskedQuantity> => {
        const text = withItsUnit(typed.trim(), value.unit);
        return { value: { ...value, text }, text };
      };
      const shape = { ask: "quantity", unit: start.unit } as const;
      // The default was parsed, so the dimension is the one its text names.
      return answerTo(label, shape, asked(start, options.default), (typed) =>
        asked(parseQuantity(typed, { unit: start.unit }), typed),
      ) as AskedQuantity<DimensionOfText<Text>>;
    },
    number(label, { default: byDefault, low = -Infinity, high = Infinity }) {
      const check = (value: number): Parsed<number> => {
        if (!Number.isFinite(value) || value < low || value > high)
          throw notebookError(`expected ${rangeText(low, high)}.`);
        return { value, text: String(value) };
      };
      return answerTo(label, { ask: "number" }, check(byDefault), (typed) => check(parseNumber(typed)));
    },
    choice(label, { choices, default: byDefault = choices[0] }) {
      const take = (typed: string): Parsed<(typeof choices)[number]> => {
        const value = choices.find((choice) => choice === typed.trim());
        if (value === undefined) throw notebookError(`expected one of ${choices.join(", ")}.`);
        return { value, text: value };
      };
      if (byDefault === undefined)
        throw notebookError(
          `page.ask.choice("${label}"): there is nothing to choose from; name at least one choice.`,
        );
      return answerTo(label, { ask: "choice", choices }, take(byDefault), take);
    },
    yesNo(label, { default: byDefault }) {
      const take = (typed: string): Parsed<boolean> => {
        const word = typed.trim().toLowerCase();
        if (word !== "yes" && word !== "no") throw notebookError("expected yes or no.");
        return { value: word === "yes", text: word };
      };
      return answerTo(label, { ask: "yes-no" }, take(byDefault ? "yes" : "no"), take);
    },
  };
}

function defaultQuantity(label: string, text: string): Quantity {
  try {
    return parseQuantity(text);
  } catch (error) {
    if (!(error instanceof UnitError)) throw error;
    throw notebookError(
      `page.ask.quantity("${label}"): the default "${text}" can't be read. ${error.message}`,
      error,
    );
  }
}

/** An answer typed without its unit was taken in the default's: it is said. */
function withItsUnit(typed: string, unit: string): string {
  return /[^-+\d.,/\s]/.test(typed) ? typed : `${typed} ${unit}`;
}

function rangeText(low: number, high: number): string {
  if (low === -Infinity && high === Infinity) return "a number";
  if (high === Infinity) return `a number of ${low} or more`;
  return low === -Infinity ? `a number of at most ${high}` : `a number from ${low} to ${high}`;
}
