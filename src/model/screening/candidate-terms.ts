import { modelError } from "../error.ts";
import type { Observations, ObservedFactor } from "../observations.ts";
import { main, squared, times, type Term } from "../term.ts";
import { listed } from "../../units/index.ts";
import { termLabel } from "../design.ts";

/** A term that a screening may pick, with its column in coded factors. */
export interface CandidateTerm {
  readonly term: Term;
  readonly label: string;
  /** Places among the candidates of the main effects that it is made of; empty for a main effect. */
  readonly parents: readonly number[];
  readonly column: Float64Array;
}

/**
 * The terms among which a screening looks: every factor, every product of two factors, and the square of every quantity that was cut at
 * three settings or more. Quantities are coded −1 to +1 over their range, a category of two levels −1 and +1 in the order of its levels.
 * Refused: a category of more levels, and a factor that never moved.
 */
export function candidateTerms(observations: Observations): readonly CandidateTerm[] {
  const { factors, rows } = observations;
  const many = factors.filter(({ kind, levels }) => kind === "category" && levels.length > 2);
  if (many.length > 0)
    throw modelError(
      `${listed(many.map(({ name, levels }) => `${name} with ${levels.length} levels`))} in a screening`,
      "quantities, and categories of two levels",
      "Fit the factor with fitLinear, or screen the runs of two of its levels.",
    );
  const mains = factors.map((factor) =>
    Float64Array.from(rows, (row) => codedSetting(factor, row.settings[factor.name])),
  );
  const still = factors.filter((_, k) => mains[k].every((value) => value === mains[k][0]));
  if (still.length > 0)
    throw modelError(
      `${listed(still.map(({ name }) => name))}, which never moved in these runs`,
      "factors that were cut at two settings or more",
      "Leave it out of the factors.",
    );
  const made: CandidateTerm[] = factors.map(({ name }, k) => candidate(main(name), [], mains[k]));
  factors.forEach((a, i) =>
    factors.slice(i + 1).forEach((b, d) => {
      const j = i + 1 + d;
      made.push(
        candidate(
          times(a.name, b.name),
          [i, j],
          mains[i].map((value, row) => value * mains[j][row]),
        ),
      );
    }),
  );
  factors.forEach(({ name, kind }, k) => {
    if (kind !== "quantity" || new Set(mains[k].map((value) => Number(value.toPrecision(9)))).size < 3)
      return;
    made.push(
      candidate(
        squared(name),
        [k],
        mains[k].map((value) => value * value),
      ),
    );
  });
  return made;
}

function candidate(term: Term, parents: readonly number[], column: Float64Array): CandidateTerm {
  return { term, label: termLabel(term), parents, column };
}

/** A setting as the columns of candidates have it: −1 to +1 over the factor's range, on its own scale. */
export function codedSetting(factor: ObservedFactor, setting: number | string): number {
  if (factor.kind === "category") return setting === factor.levels[0] ? -1 : 1;
  const place = (value: number) => (factor.scale === "log" ? Math.log(value) : value);
  const low = place(factor.low);
  const high = place(factor.high);
  return (2 * place(Number(setting)) - low - high) / (high - low);
}
