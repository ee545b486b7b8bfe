/** The slope of a straight line through points, and its t on the points less two. */
export function lineThrough(x: readonly number[], y: readonly number[]): { slope: number; t: number } {
  const n = x.length;
  const [meanX, meanY] = [x, y].map((values) => values.reduce((sum, value) => sum + value, 0) / n);
  const sxx = x.reduce((sum, value) => sum + (value - meanX) ** 2, 0);
  const slope = x.reduce((sum, value, index) => sum + (value - meanX) * (y[index] - meanY), 0) / sxx;
  const rest = x.reduce((sum, value, index) => sum + (y[index] - meanY - slope * (value - meanX)) ** 2, 0);
  return { slope, t: slope / Math.sqrt(rest / (n - 2) / sxx) };
}
