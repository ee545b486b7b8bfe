/** Agreement in significant digits, −log₁₀ of the relative error (of the error itself where the reference is 0); 17 where nothing differs. */
export function digits(computed: number, reference: number): number {
  if (computed === reference) return 17;
  const error = Math.abs(computed - reference) / (reference === 0 ? 1 : Math.abs(reference));
  return Math.min(17, -Math.log10(error));
}

/** The worst agreement of a list. */
export function worstDigits(computed: ArrayLike<number>, reference: ArrayLike<number>): number {
  if (computed.length !== reference.length) return -Infinity;
  return Math.min(...Array.from(computed, (value, i) => digits(value, reference[i])));
}
