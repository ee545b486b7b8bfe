import type { ToldModel } from "./told.ts";

/** What is lost with one run: spoiled, or never cut. */
export interface RunLoss {
  /** Place in cutting order, from 1. */
  readonly run: number;
  /** How many times the standard error grows of the term that suffers most among those that can still be told; 1 is no loss. */
  readonly growth: number;
  /** That term; empty where none suffers. */
  readonly label: string;
  /** Terms that can't be told any more. */
  readonly lost: readonly string[];
}

/** Below this share of a run's own weight nothing is left of it beside the model: the run alone carries a term. */
const CARRIED_ALONE = 1e-9;

/**
 * What each single run is worth. Leaving run i out is the same as giving it a coefficient of its own; so the variance of an
 * estimate with weight uᵢ on that run grows by uᵢ²/pᵢ, pᵢ being what the model leaves of the run (Cook and Weisberg, Residuals and
 * Influence in Regression, 1982, section 2.2.3; with whole plots, in whitened terms). One product a run and term, no refit.
 */
export function runLosses({ information, scatter, model, along, variances }: ToldModel): readonly RunLoss[] {
  const { rows, orthogonal } = information;
  const rank = orthogonal.length;
  // Column i of V^(−1/2), carried to the orthogonal columns, is row i of the orthogonal columns whitened once more.
  const again = orthogonal.map(scatter.whitened);
  const told = along.flatMap((vector, index) => {
    const variance = variances[index];
    if (vector === null || variance === null || variance === undefined) return [];
    return [{ vector, variance, label: model.estimands[index]?.label ?? "" }];
  });
  const onRuns = new Float64Array(rank);
  return Array.from({ length: rows }, (_, row): RunLoss => {
    let explained = 0;
    for (let place = 0; place < rank; place += 1) {
      const value = again[place]?.[row] ?? 0;
      onRuns[place] = value;
      explained += value * value;
    }
    const own = ownWeight(scatter.sizes[scatter.plots[row] ?? 0] ?? 1, scatter.ratio);
    const left = own - explained;
    const alone = left < CARRIED_ALONE * own;
    let growth = 1;
    let label = "";
    const lost: string[] = [];
    for (const term of told) {
      let weight = 0;
      for (let place = 0; place < rank; place += 1)
        weight += (term.vector[place] ?? 0) * (onRuns[place] ?? 0);
      const share = (weight * weight) / term.variance;
      if (alone) {
        if (share > CARRIED_ALONE * own) lost.push(term.label);
        continue;
      }
      const grown = Math.sqrt(1 + share / left);
      if (grown > growth * (1 + CARRIED_ALONE)) [growth, label] = [grown, term.label];
    }
    return { run: row + 1, growth, label, lost };
  });
}

/** Entry of V⁻¹ on its diagonal: 1 less what the whole plot's other runs already say. */
function ownWeight(size: number, ratio: number): number {
  return 1 - ratio / (1 + ratio * size);
}

/** The run that would be missed most: the most terms lost, then the largest growth. Null where losing any run changes nothing. */
export function worstLossOf(losses: readonly RunLoss[]): RunLoss | null {
  let worst: RunLoss | null = null;
  for (const loss of losses) {
    if (loss.lost.length === 0 && loss.label === "") continue;
    if (
      worst === null ||
      loss.lost.length > worst.lost.length ||
      (loss.lost.length === worst.lost.length && loss.growth > worst.growth * (1 + CARRIED_ALONE))
    )
      worst = loss;
  }
  return worst;
}
