import { tQuantile } from "../numerics/index.ts";
import { chosenTerms } from "./chosen-from.ts";
import { columnLabel, columnTerm } from "./design.ts";
import type { ExactlyJudged, Unreplicated } from "./fit.ts";
import { inertLimits, mostEffects, pseudoStandardErrorOf } from "./screening/inert-limits.ts";
import type { Solved } from "./solved.ts";
import type { Term } from "./term.ts";
import { withFactors } from "./with-factors.ts";

/** Effects may differ by this share in their variance and still count as one kind. */
const alike = 1e-6;

/**
 * Which effects stand out when no run is left to show the scatter: most effects are taken to be nothing but scatter, and their
 * typical size is the measure. Lenth 1989, Technometrics 31, 469–473: initial scale s₀ = 1.5 · median |effect|; pseudo standard error
 * 1.5 · median of the |effects| below 2.5 s₀; margin t(1/2 + confidence/2; m/3) · PSE; simultaneous margin with
 * γ = (1 + confidence^(1/m))/2. Null while error is left, with fewer than three effects, and where the effects are not of one kind
 * (equal variances, no correlation): the typical size of unlike effects measures nothing.
 */
export function unreplicated(solved: Solved): Unreplicated | null {
  const { solution, design, confidence } = solved;
  if (solution.df > 0) return null;
  const { kept, rank, inverseCross } = solution;
  const effects: (JudgedEffect & { readonly k: number; readonly scale: number })[] = [];
  for (const [k, place] of kept.entries()) {
    const column = design.columns[place];
    const source = design.sources[column.source];
    if (source.role !== "term") continue;
    let scale = 2;
    for (const { elementary, degree } of column.parts) {
      const { level, factor, logarithm, name } = design.elementaries[elementary];
      const observed = design.factors[factor];
      if (level !== undefined) {
        if (observed.levels.length !== 2) return null;
        scale /= 2; // a level stands 1 from the other, coded ends stand 2 apart
      } else {
        const ends = logarithm ? Math.log(observed.high / observed.low) : observed.high - observed.low;
        if (!(ends > 0) || degree !== 1 || name === "") return null;
        scale *= ends / 2;
      }
    }
    effects.push({
      term: { ...columnTerm(design, column) },
      asked: source.term,
      label: columnLabel(design, column),
      effect: scale * solution.coefficients[k],
      k,
      scale,
    });
  }
  if (effects.length < 3 || effects.length > mostEffects) return null;
  const spread = (a: (typeof effects)[number], b: (typeof effects)[number]): number =>
    a.scale * b.scale * inverseCross[a.k * rank + b.k];
  const unit = spread(effects[0], effects[0]);
  for (const [i, a] of effects.entries()) {
    if (Math.abs(spread(a, a) - unit) > alike * unit) return null;
    for (const b of effects.slice(i + 1)) if (Math.abs(spread(a, b)) > alike * unit) return null;
  }
  return judged(effects, confidence);
}

interface JudgedEffect {
  /** With the level of a category: "edge=used". */
  readonly term: Term;
  /** As a fit takes it: "edge". */
  readonly asked: Term;
  readonly label: string;
  readonly effect: number;
}

function judged(effects: readonly JudgedEffect[], confidence: number): Unreplicated {
  const sizes = Float64Array.from(effects, ({ effect }) => Math.abs(effect)).sort();
  const middle = sizes.length / 2;
  const initialScale =
    1.5 * (middle % 1 === 0 ? (sizes[middle - 1] + sizes[middle]) / 2 : sizes[middle - 0.5]);
  const pseudoStandardError = pseudoStandardErrorOf(sizes);
  const m = effects.length;
  const df = m / 3;
  const margin = tQuantile((1 + confidence) / 2, df) * pseudoStandardError;
  let exact: ExactlyJudged | null = null;
  return {
    effects: effects.map(({ term, label, effect }) => ({ term, label, effect })),
    initialScale,
    pseudoStandardError,
    df,
    margin,
    simultaneousMargin: tQuantile((1 + confidence ** (1 / m)) / 2, df) * pseudoStandardError,
    active: effects.filter(({ effect }) => Math.abs(effect) > margin).map(({ term }) => term),
    get exact() {
      return (exact ??= exactly(effects, pseudoStandardError, confidence));
    },
  };
}

function exactly(
  effects: readonly JudgedEffect[],
  pseudoStandardError: number,
  confidence: number,
): ExactlyJudged {
  const { single, all, chanceOf, chanceOfLargest, draws, seed } = inertLimits(effects.length, { confidence });
  const margin = single * pseudoStandardError;
  const ratios = effects.map(({ effect }) =>
    pseudoStandardError === 0 ? (effect === 0 ? 0 : Infinity) : Math.abs(effect) / pseudoStandardError,
  );
  const active = effects.filter(({ effect }) => Math.abs(effect) > margin);
  return {
    margin,
    simultaneousMargin: all * pseudoStandardError,
    chances: ratios.map((ratio) => ({ single: chanceOf(ratio), all: chanceOfLargest(ratio) })),
    active: active.map(({ term }) => term),
    terms: chosenTerms(withFactors(active.map(({ asked }) => asked)), {
      how: `what stands out among ${effects.length} effects of these same runs`,
    }),
    draws,
    seed,
  };
}
