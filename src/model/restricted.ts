import { listed } from "../units/index.ts";
import { constrainedLeastSquares, fTail, leastSquares, tQuantile, tTwoSided } from "../numerics/index.ts";
import type { Trial } from "../trial/index.ts";
import { basisChange, plainDesign } from "./basis-change.ts";
import { designColumns } from "./design-columns.ts";
import { columnLabel, columnTerm, designOf, termLabel } from "./design.ts";
import { modelError } from "./error.ts";
import type { Coefficient } from "./fit.ts";
import { fitInput } from "./fit-options.ts";
import type { FitOptions } from "./fit-options.ts";
import type { Observations } from "./observations.ts";
import { residualVariance } from "./solved.ts";
import { checkedTerms, termsOf } from "./term-sets.ts";
import { termKey } from "./term.ts";
import type { ModelKind, Term } from "./term.ts";
import { pText, settingNumber } from "./words.ts";

/** A sum of coefficients held at a value: one term held at 2, or several that must sum to zero. */
export interface Restriction {
  /** Coefficients by their terms (as `Coefficient.term` names them) with what each is multiplied by; a bare term counts once. */
  readonly of: Term | readonly { readonly term: Term; readonly times: number }[];
  readonly value: number;
}

export interface RestrictedOptions extends Omit<FitOptions, "model" | "throughOrigin"> {
  readonly model?: ModelKind;
}

/** A fit with restrictions, beside the one without. */
export interface RestrictedFit {
  /** Under the restrictions; a coefficient that they fix has standard error 0. */
  readonly coefficients: readonly Coefficient[];
  readonly residualSd: number;
  readonly residualDf: number;
  /** F test of the restrictions against the unrestricted fit. */
  readonly f: number;
  readonly p: number;
  readonly df: number;
  readonly denominatorDf: number;
  readonly sentence: string;
}

/**
 * Fits with coefficients held by linear restrictions, and tests whether the readings bear them: an exponent of feed held at the 2 of a pure nose-radius cusp, two
 * edges with one slope, levels that sum to zero.
 *
 * Use it to see what the other coefficients are if the physical value is taken as known, and what the data say against it. Coefficients are those of the told
 * scale (natural units, or coded). The F test is the exact one of least squares.
 * Refused: unknown terms, contradicting restrictions, terms that the runs can't tell apart, runs that leave no scatter.
 * Source: Seber and Lee 2003, Linear Regression Analysis, 4.3.
 *
 * Example: `fitRestricted(observations, { model: "power-law" }, [{ of: { feed: 1 }, value: 2 }])` holds the exponent of feed at 2.
 */
export function fitRestricted(
  source: Trial | Observations,
  options: RestrictedOptions,
  restrictions: readonly Restriction[],
): RestrictedFit {
  if (restrictions.length === 0) throw modelError("no restriction", "at least one");
  const { model, terms, coded = false, log = false, ...rest } = options;
  const powerLaw = model === "power-law";
  const input = fitInput(source, { ...rest, log: log || powerLaw });
  const { observations, response, weights, blocks, confidence } = input;
  const { factors } = observations;
  const asked = checkedTerms(terms ?? termsOf(model ?? "main", factors), factors, "intercept");
  const tell = coded ? "coded" : "natural";
  // In the told columns themselves, so that a restriction means the coefficient that is read.
  const told = plainDesign(designOf(factors, asked, { tell, logarithms: powerLaw, blocks }));
  const change = basisChange(told)!;
  const scale = told.columns.map(
    (_, k) => change.contributions[k].find(({ column }) => column === k)!.coefficient.high,
  );
  const columns = designColumns(told, observations.rows, blocks);
  const weighted = weights === undefined ? {} : { weights };
  const full = leastSquares(columns, response, weighted);
  const variance = residualVariance(full);
  if (full.dropped.length > 0)
    throw modelError(
      `${columnLabel(told, told.columns[full.dropped[0].column])}, which these runs can't tell from others`,
      "terms that can be told apart",
      "Leave it out of the terms.",
    );
  if (variance === null || variance === 0)
    throw modelError(
      "runs that leave no scatter about the model",
      "some scatter to judge restrictions by",
      "Ask for fewer terms.",
    );
  const keys = told.columns.map((column) => termKey(columnTerm(told, column)));
  const held = constrainedLeastSquares(
    columns,
    response,
    restrictions.map(({ of, value }) => {
      const multiples = new Float64Array(columns.length);
      for (const { term, times } of partsOf(of)) {
        const place = keys.indexOf(termKey(term));
        if (place < 0)
          throw modelError(
            `the restricted term ${JSON.stringify(term)}`,
            `one of ${told.columns.map((one) => JSON.stringify(columnTerm(told, one))).join(", ")}`,
          );
        // What is told is the fitted coefficient times the scale of its column.
        multiples[place] += times * scale[place];
      }
      return { multiples, value };
    }),
    weighted,
  );
  const residualDf = held.df;
  const restrictedVariance = held.residualSumOfSquares / residualDf;
  const reach = tQuantile((1 + confidence) / 2, residualDf);
  const coefficients = told.columns.map((column, k): Coefficient => {
    const estimate = held.coefficients[k] * scale[k];
    const cross = held.inverseCross[k * columns.length + k] * scale[k] ** 2;
    // A held coefficient has no variance; what rounding leaves of it is not one.
    const own = full.inverseCross[k * columns.length + k] * scale[k] ** 2;
    const standardError = cross > 1e-12 * own ? Math.sqrt(restrictedVariance * cross) : 0;
    const t = standardError > 0 ? estimate / standardError : null;
    return {
      term: columnTerm(told, column),
      label: columnLabel(told, column),
      estimate,
      standardError,
      low: estimate - reach * standardError,
      high: estimate + reach * standardError,
      t,
      df: residualDf,
      p: t === null ? null : tTwoSided(t, residualDf),
    };
  });
  const df = restrictions.length;
  const f = Math.max(0, held.residualSumOfSquares - full.residualSumOfSquares) / df / variance;
  const p = fTail(f, df, full.df);
  return {
    coefficients,
    residualSd: Math.sqrt(restrictedVariance),
    residualDf,
    f,
    p,
    df,
    denominatorDf: full.df,
    sentence: sentence(restrictions, p, { limit: 1 - confidence, powerLaw }),
  };
}

function partsOf(of: Restriction["of"]): readonly { readonly term: Term; readonly times: number }[] {
  return Array.isArray(of)
    ? (of as readonly { term: Term; times: number }[]) // an array is a list of parts
    : [{ term: of as Term, times: 1 }]; // and what is no array is one term
}

function sentence(
  restrictions: readonly Restriction[],
  p: number,
  { limit, powerLaw }: { readonly limit: number; readonly powerLaw: boolean },
): string {
  const named = (term: Term): string => {
    const label = termLabel(term);
    return powerLaw && label !== "intercept" ? `the exponent of ${label}` : label;
  };
  const held = restrictions.map(({ of, value }) => {
    const left = partsOf(of).map(
      ({ term, times }) => `${times === 1 ? "" : `${settingNumber(times)} × `}${named(term)}`,
    );
    return `${left.join(" + ")} = ${settingNumber(value)}`;
  });
  return p < limit
    ? `The readings speak against ${listed(held)} (p ${pText(p)}).`
    : `The readings do not speak against ${listed(held)} (p ${pText(p)}); they may not be able to, so read the free estimate's interval as well.`;
}
