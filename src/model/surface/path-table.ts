import type { Fit, Prediction } from "../fit.ts";
import { percent, rounded, settingNumber, unitText } from "../words.ts";

/** A place to cut next, with what the fit says of it: a step of a steepest path, or a point of a ridge path. */
export interface PathPlace {
  readonly settings: Readonly<Record<string, number>>;
  readonly prediction: Prediction;
  /** Of a ridge path: how far from the middle, in half ranges. */
  readonly radius?: number;
}

/**
 * A path as rows for a page: the settings, the response with its interval (a median where the fit is on logarithms), where the next run may
 * lie, and which factors stand outside what was cut. Columns that no row fills are left off.
 *
 * Example: `page.table(pathTable(fit, steepestPath(fit, { aim: "smaller" }).steps))`.
 */
export function pathTable(
  fit: Fit,
  path: readonly PathPlace[],
): {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly (string | null)[])[];
} {
  const { name, unit } = fit.response;
  const bracketed = (label: string, of: string) => `${label}${unitText(of) === "" ? "" : ` [${of}]`}`;
  const names = Object.keys(path[0]?.settings ?? {});
  const said = percent(path[0]?.prediction.confidence ?? fit.confidence);
  const columns = [
    "from the middle",
    ...names.map((factor) => bracketed(factor, fit.factors.find((one) => one.name === factor)?.unit ?? "")),
    bracketed(name, unit),
    `${fit.logScale ? "median" : "mean"}, ${said}`,
    `next run, ${said}`,
    "outside what was cut",
  ];
  const rows = path.map(({ radius, settings, prediction }) => {
    const { estimate, mean, single, extrapolation } = prediction;
    return [
      radius === undefined ? null : settingNumber(Number(radius.toPrecision(3))),
      ...names.map((factor) => settingNumber(Number(settings[factor].toPrecision(4)))),
      rounded(estimate, mean === null ? 0 : (mean.high - mean.low) / 2),
      rangeText(mean),
      rangeText(single),
      extrapolation.length === 0 ? null : extrapolation.join(", "),
    ];
  });
  const used = columns.map((_, k) => rows.some((row) => row[k] !== null));
  return {
    columns: columns.filter((_, k) => used[k]),
    rows: rows.map((row) => row.filter((_, k) => used[k])),
  };
}

function rangeText(range: { readonly low: number; readonly high: number } | null): string | null {
  if (range === null) return null;
  const half = (range.high - range.low) / 2;
  return `${rounded(range.low, half)} to ${rounded(range.high, half)}`;
}
