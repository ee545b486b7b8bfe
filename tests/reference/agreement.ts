import type { Fit } from "../../src/model/index.ts";
import { fitOf } from "./worked-example.ts";
import type { ExampleAnalysis, Printed, Published, Recomputed, WorkedExample } from "./worked-example.ts";

/** One figure beside what the source says. `off` is the disagreement in units of what is allowed: 1 is the most. */
export interface Comparison {
  readonly what: string;
  readonly expected: string;
  readonly found: number | null;
  readonly off: number;
}

/** Every published figure of an analysis against the fit, allowing half a unit of its last printed digit. */
export function publishedComparisons(
  example: WorkedExample,
  analysis: ExampleAnalysis,
): readonly Comparison[] {
  const fit = fitOf(example, analysis);
  const { published } = analysis;
  const found: Comparison[] = [];
  const compare = (what: string, printed: string | undefined, value: number | null | undefined): void => {
    if (printed === undefined) return;
    const off =
      value === null || value === undefined
        ? Infinity
        : Math.abs(value - Number(printed)) / allowance(printed, value);
    found.push({ what, expected: printed, found: value ?? null, off });
  };
  const each = (
    what: string,
    printed: Printed | undefined,
    valueOf: (key: string) => number | null | undefined,
  ): void => {
    for (const [key, text] of Object.entries(printed ?? {})) compare(`${what} ${key}`, text, valueOf(key));
  };
  const coefficient = (label: string): Fit["coefficients"][number] | undefined =>
    fit.coefficients.find((one) => one.label === label);
  const source = (label: string): Fit["analysis"][number] | undefined =>
    fit.analysis.find((row) => row.source === label);
  each("coefficient", published.coefficients, (key) => coefficient(key)?.estimate);
  each("standard error", published.standardErrors, (key) => coefficient(key)?.standardError);
  each("t", published.t, (key) => coefficient(key)?.t);
  each("sum of squares", published.sumsOfSquares, (key) => source(key)?.sumOfSquares);
  each("mean square", published.meanSquares, (key) => source(key)?.meanSquare);
  each("degrees of freedom", published.degreesOfFreedom, (key) => source(key)?.df);
  each("F", published.f, (key) => source(key)?.f);
  each("p", published.p, (key) => source(key)?.p);
  compareEffects(example, analysis, published, compare, each);
  compare("residual sd", published.residualSd, fit.residualSd);
  compare("R²", published.rSquared, fit.rSquared);
  compare("adjusted R²", published.rSquaredAdjusted, fit.rSquaredAdjusted);
  const model = wholeModel(fit);
  compare("sum of squares of the model", published.modelSumOfSquares, model.sumOfSquares);
  compare("F of the model", published.modelF, model.f);
  each(
    "lack of fit",
    published.lackOfFit,
    (key) => fit.lackOfFit?.[key as keyof NonNullable<Fit["lackOfFit"]>],
  );
  each(
    "curvature",
    published.curvature,
    (key) => fit.curvature?.[key as keyof NonNullable<Fit["curvature"]>],
  );
  each("unreplicated", published.unreplicated, (key) => fit.unreplicated?.[key as "margin"]);
  each("stationary point", published.surface?.stationary, (key) => fit.surface?.stationary?.[key]);
  compare("response there", published.surface?.value, fit.surface?.value);
  published.surface?.eigenvalues.forEach((text, i) =>
    compare(`eigenvalue ${i + 1}`, text, fit.surface?.eigenvalues[i]),
  );
  for (const { at, estimate } of published.predictions ?? []) {
    compare(`fitted at ${JSON.stringify(at)}`, estimate, fit.predict(at).estimate);
  }
  return found;
}

/** Every figure that R computed against the fit; allowed is `relative` of the figure, or of what the scatter makes of it. */
export function recomputedComparisons(
  example: WorkedExample,
  analysis: ExampleAnalysis,
  given: Recomputed,
  relative: number,
): readonly Comparison[] {
  const fit = fitOf(example, analysis);
  const found: Comparison[] = [];
  const compare = (
    what: string,
    expected: number | null | undefined,
    value: number | null | undefined,
    scale = 0,
  ): void => {
    if (expected === undefined || expected === null) return;
    const allowed = relative * Math.max(Math.abs(expected), scale);
    const off =
      value === null || value === undefined
        ? Infinity
        : value === expected
          ? 0
          : Math.abs(value - expected) / allowed;
    found.push({ what, expected: String(expected), found: value ?? null, off });
  };
  const sd =
    given.residualSd ??
    Math.max(...Object.values(given.coefficients).map(({ estimate }) => Math.abs(estimate)));
  compare("residual df", given.residualDf, fit.residualDf);
  compare("residual sd", given.residualSd, fit.residualSd);
  compare("R²", given.rSquared, fit.rSquared, 1);
  compare("adjusted R²", given.rSquaredAdjusted, fit.rSquaredAdjusted, 1);
  for (const [label, expected] of Object.entries(given.coefficients)) {
    const own = fit.coefficients.find((one) => one.label === label);
    const scale = expected.standardError ?? sd;
    compare(`coefficient ${label}`, expected.estimate, own?.estimate, scale);
    compare(`standard error ${label}`, expected.standardError, own?.standardError);
    compare(`low ${label}`, expected.low, own?.low, scale);
    compare(`high ${label}`, expected.high, own?.high, scale);
    compare(`t ${label}`, expected.t, own?.t, 1);
    compare(`p ${label}`, expected.p, own?.p);
  }
  for (const [label, expected] of Object.entries(given.analysis ?? {})) {
    const own = fit.analysis.find((row) => row.source === label);
    compare(`df ${label}`, expected.df, own?.df);
    compare(`sum of squares ${label}`, expected.sumOfSquares, own?.sumOfSquares, sd * sd);
    compare(`F ${label}`, expected.f, own?.f, 1);
    compare(`p of F ${label}`, expected.p, own?.p);
  }
  for (const [key, expected] of Object.entries(given.lackOfFit ?? {}))
    compare(`lack of fit ${key}`, expected, fit.lackOfFit?.[key as "f"]);
  for (const [key, expected] of Object.entries(given.unreplicated ?? {}))
    compare(`unreplicated ${key}`, expected, fit.unreplicated?.[key as "df"]);
  for (const [key, expected] of Object.entries(given.surface?.stationary ?? {}))
    compare(`stationary point ${key}`, expected, fit.surface?.stationary?.[key]);
  compare("response there", given.surface?.value, fit.surface?.value);
  given.surface?.eigenvalues.forEach((expected, i) =>
    compare(`eigenvalue ${i + 1}`, expected, fit.surface?.eigenvalues[i]),
  );
  for (const key of ["fitted", "leverage", "studentised", "cookDistance"] as const) {
    given.rows?.[key].forEach((expected, i) => {
      // A row that decides its own fitted value has no residual, and without one row of one degree of freedom there is no scatter:
      // R divides rounding by rounding there.
      if (given.rows!.leverage[i]! > 1 - 1e-9 && (key === "studentised" || key === "cookDistance")) return;
      if (key === "studentised" && given.residualDf < 2) return;
      compare(`${key} of row ${i + 1}`, expected, fit.rows[i][key], key === "fitted" ? sd : 1);
    });
  }
  return found;
}

/** Effects from low to high are twice the coefficients of factors coded −1 and +1. */
function compareEffects(
  example: WorkedExample,
  analysis: ExampleAnalysis,
  published: Published,
  compare: (what: string, printed: string | undefined, value: number | null | undefined) => void,
  each: (
    what: string,
    printed: Printed | undefined,
    valueOf: (key: string) => number | null | undefined,
  ) => void,
): void {
  if (published.effects === undefined) return;
  const { coefficients, unreplicated } = fitOf(example, analysis, { coded: true });
  const twice = (label: string, field: "estimate" | "standardError" | "low" | "high"): number | null => {
    const value = coefficients.find((one) => one.label === label)?.[field] ?? null;
    return value === null ? null : 2 * value;
  };
  each("effect", published.effects, (key) => twice(key, "estimate"));
  for (const [label, [low, high]] of Object.entries(published.effectIntervals ?? {})) {
    compare(`low of effect ${label}`, low, twice(label, "low"));
    compare(`high of effect ${label}`, high, twice(label, "high"));
  }
  compare(
    "standard error of an effect",
    published.effectStandardError,
    twice(Object.keys(published.effects)[0], "standardError"),
  );
  // Effects are told a second time where no error is left.
  if (unreplicated === null) return;
  each(
    "unreplicated effect",
    published.effects,
    (key) => unreplicated.effects.find((one) => one.label === key)?.effect,
  );
}

/** All sources but the residual together, against it. */
function wholeModel({ analysis }: Fit): { readonly sumOfSquares: number; readonly f: number | null } {
  const sources = analysis.filter((row) => row.source !== "residual");
  const residual = analysis.find((row) => row.source === "residual");
  const sumOfSquares = sources.reduce((total, row) => total + row.sumOfSquares, 0);
  const df = sources.reduce((total, row) => total + row.df, 0);
  return { sumOfSquares, f: residual === undefined ? null : sumOfSquares / df / residual.meanSquare };
}

/** Half a unit of the last printed digit; a value that ends on a five may be rounded either way, so rounding of doubles is allowed on top. */
export function allowance(printed: string, value: number): number {
  const [mantissa = "", exponent = "0"] = printed.toLowerCase().split("e");
  const decimals = mantissa.split(".")[1]?.length ?? 0;
  return 0.5 * 10 ** (Number(exponent) - decimals) + 8 * Number.EPSILON * Math.abs(value);
}
