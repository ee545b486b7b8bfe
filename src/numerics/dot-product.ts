/** The sum of the products of two columns of one length, from first to last. */
export function dotProduct(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let row = 0; row < a.length; row++) sum += a[row] * b[row];
  return sum;
}
