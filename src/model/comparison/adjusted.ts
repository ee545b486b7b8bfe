/**
 * p values so raised that the chance of calling any inert pair real stays at the level asked for, whatever their correlation: the smallest times the number of
 * pairs, the next times one fewer, never falling. Source: Holm 1979, Scandinavian Journal of Statistics 6, 65–70.
 * Example: 0.01, 0.04, 0.03 become 0.03, 0.06, 0.06.
 */
export function holmAdjusted(values: readonly number[]): readonly number[] {
  const order = values.map((_, i) => i).sort((a, b) => values[a] - values[b]);
  const adjusted = new Array<number>(values.length);
  let most = 0;
  order.forEach((place, rank) => {
    most = Math.max(most, Math.min(1, (values.length - rank) * values[place]));
    adjusted[place] = most;
  });
  return adjusted;
}
