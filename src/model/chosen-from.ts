import { formatNumber } from "../units/index.ts";
import type { Term } from "./term.ts";

/** How a model was chosen by looking at the very data it is fitted to. */
export interface ChosenFrom {
  /** Reads after "was chosen as": "the best of 28 models by these runs". */
  readonly how: string;
  /** How many times as wide the intervals would have to be for the choice itself. Left out where that was not tried. */
  readonly widening?: number;
  /** How the widening was found: by leaving runs out (`validateChoice`), or by choosing anew in drawn trials (`bootstrapChoice`). Default "leaving-out". */
  readonly by?: "leaving-out" | "drawing";
}

/** Terms that the data chose: a list like any other, but a fit that is given this very list says that it was chosen, and how. */
export interface ChosenTerms extends ReadonlyArray<Term> {
  readonly chosenFrom: ChosenFrom;
}

/** The terms with their mark. A copy of the list loses it: hand on the list itself, or give the fit `chosenFrom`. */
export function chosenTerms(terms: readonly Term[], chosenFrom: ChosenFrom): ChosenTerms {
  const marked = [...terms];
  // Not counted among the list's own entries, so that it compares, prints and is written as the terms alone.
  Object.defineProperty(marked, "chosenFrom", { value: chosenFrom, enumerable: false });
  // The property was defined on the line above.
  return marked as readonly Term[] as ChosenTerms;
}

/** The mark of a list of terms; undefined where nothing says that the data chose them. */
export function markOf(terms: readonly Term[] | undefined): ChosenFrom | undefined {
  return terms !== undefined && isMarked(terms) ? terms.chosenFrom : undefined;
}

function isMarked(terms: readonly Term[]): terms is ChosenTerms {
  return "chosenFrom" in terms;
}

/** What a reader must know of the intervals of a model that its own data chose. */
export function choiceNote({ how, widening, by = "leaving-out" }: ChosenFrom): string {
  const start = `This model was chosen as ${how}; its intervals know nothing of the choice and are too narrow`;
  if (widening === undefined)
    return `${start}, by how much was not tried out. Prove what matters with further runs.`;
  const times = formatNumber(widening, { digits: 2 });
  if (by === "drawing") {
    return widening < 1.05
      ? `This model was chosen as ${how}. With the choice made anew in drawn trials its intervals come out hardly wider.`
      : `${start}: with the choice made anew in drawn trials they come out ${times} times as wide. Go by those, and prove what matters with further runs.`;
  }
  if (widening < 1.05)
    return `This model was chosen as ${how}. Choosing anew with runs left out predicts those about as well as this model does, so its intervals are hardly too narrow.`;
  return `${start}: choosing anew with runs left out, those are missed by ${times} times as much as with this model kept. Take the intervals as that many times as wide, and prove what matters with further runs.`;
}
