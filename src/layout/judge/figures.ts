/** Two figures are as many as a guess of σ deserves. */
export function figures(value: number): string {
  return String(Number(value.toPrecision(2)));
}

export function percentOf(share: number): string {
  return `${Number((100 * share).toPrecision(4))} %`;
}

export function chance(power: number): string {
  if (power > 0.995) return "above 0.99";
  return power.toFixed(2);
}

export function signed(value: number): string {
  return value < 0 ? `−${Math.abs(value).toFixed(2)}` : value.toFixed(2);
}

/** "1 degree of freedom", "2.4 degrees of freedom". */
export function dfText(df: number): string {
  const shown = Math.abs(df - Math.round(df)) < 1e-9 ? String(Math.round(df)) : df.toFixed(1);
  return `${shown} degree${shown === "1" ? "" : "s"} of freedom`;
}
