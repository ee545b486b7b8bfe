import { modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import { isMixedFit } from "../mixed/index.ts";
import { toldMatrix } from "../term-values.ts";
import type { BootstrapOrder } from "./bootstrap-draws.ts";
import type { Target } from "./bootstrap-targets.ts";

/** A row that decides its own fitted value to within this share has no residual to draw. */
const decides = 1e-10;

/** The columns of a fit, one list each. */
export function columnsOf(fit: Fit): readonly Float64Array[] {
  const rows = toldMatrix(fit);
  return fit.coefficients.map((_, k) => Float64Array.from(rows, (row) => row[k]));
}

/** The place of each row's run among the runs, and how many runs there are. */
export function runsOf(fit: Fit): { readonly runOf: Int32Array; readonly runs: readonly number[] } {
  const places = new Map<number, number>();
  const runOf = Int32Array.from(fit.rows, ({ run }) => {
    if (!places.has(run)) places.set(run, places.size);
    return places.get(run)!;
  });
  return { runOf, runs: [...places.keys()] };
}

/** Refuses a fit with random sources: its rows hang together, and changing them one by one would hide that. */
export function requirePlainFit(fit: Fit, what: string): void {
  if (isMixedFit(fit))
    throw modelError(
      `${what} of a fit with random sources`,
      "a fit by least squares",
      "Its own intervals allow for the sources; fit without them to draw anew.",
    );
}

/** Refuses rows that are readings of the same run: they are no more independent than the run itself. */
export function requireRunsAsRows(fit: Fit, what: string, mend: string): void {
  const seen = new Set<number>();
  for (const { run } of fit.rows) {
    if (seen.has(run))
      throw modelError(`${what} of single readings (run ${run} has several)`, "one row a run", mend);
    seen.add(run);
  }
}

export function bootstrapOrder(
  fit: Fit,
  targets: readonly Target[],
  { by, draws, seed }: { readonly by: "residuals" | "runs"; readonly draws: number; readonly seed: number },
): BootstrapOrder {
  requirePlainFit(fit, "draws");
  if (by === "residuals")
    requireRunsAsRows(
      fit,
      "residuals",
      'Draw whole runs (by: "runs"), or average the readings of each run first.',
    );
  const { runOf } = runsOf(fit);
  const byBlock = new Map<number, Set<number>>();
  fit.rows.forEach(({ block }, i) => {
    const key = fit.blocks === null ? 0 : block;
    if (fit.weights?.[i] !== 0) byBlock.set(key, (byBlock.get(key) ?? new Set()).add(runOf[i]));
  });
  return {
    kind: "bootstrap",
    by,
    columns: columnsOf(fit),
    response: Float64Array.from(fit.rows, ({ value }) => value),
    fitted: Float64Array.from(fit.rows, ({ fitted }) => fitted),
    weights: fit.weights === null ? null : Float64Array.from(fit.weights),
    pool: residualPool(fit),
    runOf,
    strata: [...byBlock.values()].map((one) => Int32Array.from(one)),
    targets: targets.map(({ combination }) => combination),
    draws,
    seed,
  };
}

/** Residuals over the square root of what the fit leaves them, so that drawn runs scatter as true ones do (Davison and Hinkley 1997, (6.9)); their mean taken off. */
export function residualPool(fit: Fit): Float64Array {
  const raised = fit.rows.flatMap(({ residual, leverage: share }, i) => {
    const leverage = share ?? 1;
    const weight = fit.weights?.[i] ?? 1;
    return weight > 0 && 1 - leverage > decides
      ? [(Math.sqrt(weight) * residual) / Math.sqrt(1 - leverage)]
      : [];
  });
  const mean = raised.reduce((sum, value) => sum + value, 0) / Math.max(1, raised.length);
  // Through the origin the residuals need not sum to nothing, and drawn ones must.
  return Float64Array.from(raised, (value) => value - mean);
}
