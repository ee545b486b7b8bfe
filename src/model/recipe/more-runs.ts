import type { PointEvaluator } from "./point-evaluator.ts";

/**
 * A fit as it would stand after further runs at stated places, its estimates and scatter unchanged: each run updates the inverse information by rank one and adds a
 * degree of freedom. `added` are whitened points of the fit as it was, in the order in which they are cut.
 */
export function withMoreRuns(evaluator: PointEvaluator, added: readonly Float64Array[]): PointEvaluator {
  // (I − γ z z′)² = I − z z′/(1 + z′z), z being whitened by what was added before it.
  const updates: { readonly along: Float64Array; readonly share: number }[] = [];
  const update = (point: Float64Array): void => {
    for (const { along, share } of updates) {
      const by = share * product(point, along);
      for (let i = 0; i < point.length; i++) point[i] -= by * along[i];
    }
  };
  for (const one of added) {
    const along = Float64Array.from(one);
    update(along);
    const size = product(along, along);
    if (size > 0) updates.push({ along, share: (1 - 1 / Math.sqrt(1 + size)) / size });
  }
  const white = new Float64Array(evaluator.rank);
  const whiten = (point: Float64Array, into: Float64Array): void => {
    evaluator.whiten(point, into);
    update(into);
  };
  const df = evaluator.df + added.length;
  const later = evaluator.withMore?.(added);
  if (later !== undefined) return { ...evaluator, ...later, df, whiten };
  return {
    ...evaluator,
    df,
    whiten,
    evaluate: (point, out) => {
      evaluator.evaluate(point, out);
      whiten(point, white);
      // The estimate stands in out[0] already.
      out[1] = product(white, white);
      out[2] = out[3] = df;
    },
  };
}

export function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}
