import { tTail, tUpperQuantile } from "../../numerics/index.ts";
import type { Trial } from "../../trial/index.ts";
import { formatNumber } from "../../units/index.ts";
import { modelError } from "../error.ts";
import type { Fit, Uncertain } from "../fit.ts";
import type { Observations } from "../observations.ts";
import { differenceText, interval, isInterval, percent, pText, rounded } from "../words.ts";
import { compareLevels } from "./compare-levels.ts";
import type { CompareOptions } from "./compare-options.ts";
import type { Comparison, LevelPair } from "./comparison.ts";
import { equivalenceRuns } from "./equivalence-power.ts";

/** How a comparison with a margin is asked for. There is no default margin: only the job knows what difference matters. */
export interface EquivalenceOptions extends Omit<CompareOptions, "by" | "adjust"> {
  /** The largest difference that counts as none, in the response's unit; on a log scale the largest factor, above 1. */
  readonly margin: number;
}

/** Whether two levels differ by less than the margin. */
export interface EquivalentPair {
  readonly from: string;
  readonly to: string;
  readonly as: "difference" | "ratio";
  /** The interval that must lie within the margin: both one-sided tests at the confidence asked for, over all pairs. */
  readonly value: Uncertain;
  /** `within`: no difference beyond the margin is likely; `beyond`: there is one; `untold`: the runs can't say. */
  readonly verdict: "within" | "beyond" | "untold";
  /** The chance of being this far within the margin in any pair where the difference is as large as it; null where it can't be told. */
  readonly p: number | null;
  /** Runs of each level that would show it with a chance of 0.8 if there is no difference; null where it is told already or can't be worked out. */
  readonly runsToTell: number | null;
  readonly sentence: string;
}

export interface Equivalence {
  readonly factor: string;
  readonly response: Comparison["response"];
  readonly margin: number;
  /** Of all the verdicts together. */
  readonly confidence: number;
  readonly logScale: boolean;
  readonly pairs: readonly EquivalentPair[];
  readonly methodText: string;
  readonly notes: readonly string[];
}

/**
 * Whether levels of a category are alike for all that matters: two one-sided tests with a margin that must be given. Seeing no difference is not the same, since a large one may have been missed.
 * A pair is `within` where its interval lies inside the margin, so that the chance of saying so of any pair that differs by the margin or more is at most 1 − confidence; the
 * chance of error is shared evenly over the pairs. Where the runs can't say, the sentence tells how many runs of each level would.
 * Other factors, blocks, logarithms (margin as a factor), a control and unequal scatter are as in `compareLevels`. Refused: a margin that is not above zero (on logarithms, above 1).
 * Source: Schuirmann 1987, Journal of Pharmacokinetics and Biopharmaceutics 15, 657–680; Berger and Hsu 1996, Statistical Science 11, 283–302.
 * Example: edges with Ra 0.50, 0.52, 0.51 and 0.51, 0.53, 0.52 µm are alike within 0.05 µm: 0.01, −0.007 to 0.027.
 */
export function equivalence(source: Trial | Observations | Fit, options: EquivalenceOptions): Equivalence {
  const { margin, ...rest } = options;
  const comparison = compareLevels(source, rest);
  const { logScale, confidence, factor, response } = comparison;
  checkMargin(margin, logScale);
  if (!(confidence > 0.5)) throw modelError(`confidence ${confidence}`, "above 0.5 for tests to one side");
  const share = (1 - confidence) / comparison.pairs.length;
  return {
    factor,
    response,
    margin,
    confidence,
    logScale,
    pairs: comparison.pairs.map((pair) => equivalent(pair, comparison, margin, share)),
    methodText: [
      `Two one-sided tests with a margin of ${marginText(margin, comparison)}`,
      comparison.pairs.length > 1 ? ", the chance of error shared evenly over the pairs" : "",
      " (Schuirmann 1987, Journal of Pharmacokinetics and Biopharmaceutics 15, 657–680).",
    ].join(""),
    notes: comparison.notes,
  };
}

function checkMargin(margin: number, logScale: boolean): void {
  const least = logScale ? 1 : 0;
  if (typeof margin === "number" && margin > least && Number.isFinite(margin)) return;
  throw modelError(
    `margin ${margin}`,
    logScale
      ? "the largest factor that counts as no difference, above 1, such as 1.1 for ten percent"
      : "the largest difference that counts as none, above zero, in the response’s unit",
    "Choose it from what the part can bear, before looking at the readings.",
  );
}

function equivalent(pair: LevelPair, comparison: Comparison, margin: number, share: number): EquivalentPair {
  const { from, to, as, value, standardError, df } = pair;
  if (!isInterval(value) || standardError === null || df === null) {
    const why = isInterval(value) ? "there is no scatter to judge by" : value.reason;
    return {
      from,
      to,
      as,
      value,
      verdict: "untold",
      p: null,
      runsToTell: null,
      sentence: `Whether ${comparison.response.name} is alike with ${comparison.factor} ${to} and ${from} can't be told: ${why}.`,
    };
  }
  const inner = as === "ratio" ? Math.log : (number: number): number => number;
  const outer = as === "ratio" ? Math.exp : (number: number): number => number;
  const [centre, reach] = [inner(value.estimate), inner(margin)];
  const half = tUpperQuantile(share, df) * standardError;
  const p = tTail((reach - Math.abs(centre)) / standardError, df);
  const verdict =
    Math.abs(centre) + half < reach ? "within" : Math.abs(centre) - half > reach ? "beyond" : "untold";
  const told = {
    from,
    to,
    as,
    value: interval(value.estimate, outer(centre - half), outer(centre + half), 1 - 2 * share),
    verdict,
    p: Math.min(1, p * comparison.pairs.length),
    runsToTell: verdict === "untold" ? runsToTell(pair, comparison, reach) : null,
  } as const;
  return { ...told, sentence: inWords(told, comparison, margin) };
}

/** Null where levels are not the only thing that moved, or scatter each in their own way. */
function runsToTell(pair: LevelPair, comparison: Comparison, margin: number): number | null {
  const { levels, method, confidence, pairs } = comparison;
  const runs = levels.map((level) => level.runs);
  const two = levels.filter(({ level }) => level === pair.from || level === pair.to);
  if (method === "unequal-scatter" || two.some(({ standardDeviation }) => standardDeviation === null))
    return null;
  const sizes = two.reduce((sum, level) => sum + 1 / level.runs, 0);
  const found = equivalenceRuns({
    levels: levels.length,
    standardDeviation: pair.standardError! / Math.sqrt(sizes),
    margin,
    confidence,
    pairs: pairs.length,
  });
  return found !== null && found > Math.min(...runs) ? found : null;
}

function marginText(margin: number, { logScale, response }: Comparison): string {
  return logScale
    ? `a factor of ${formatNumber(margin)}`
    : `${formatNumber(margin)}${differenceText(response.unit)}`;
}

function inWords(pair: Omit<EquivalentPair, "sentence">, comparison: Comparison, margin: number): string {
  const { from, to, as, value, verdict, p, runsToTell: runs } = pair;
  if (!isInterval(value)) return value.text;
  const { response, factor, confidence, pairs } = comparison;
  const { low, high } = value;
  const unit = as === "ratio" ? "" : differenceText(response.unit);
  const shown = (end: number): string =>
    as === "ratio" && high / low > 2 ? formatNumber(end, { digits: 3 }) : rounded(end, (high - low) / 4);
  const range = `${as === "ratio" ? "ratio " : ""}${shown(low)} to ${shown(high)}${unit}`;
  const shared = pairs.length > 1 ? ` over all ${pairs.length} pairs` : "";
  const sure = `sure to ${percent(confidence)}${shared}`;
  const none = as === "ratio" ? 1 : 0;
  const size = marginText(margin, comparison);
  if (verdict === "within") {
    const small = low > none || high < none ? " There is a smaller one." : "";
    return `No difference in ${response.name} larger than ${size} between ${factor} ${to} and ${from} is likely (${range}, ${sure}, p ${pText(p!)}).${small}`;
  }
  if (verdict === "beyond")
    return `${response.name} with ${factor} ${to} and with ${from} differs by more than ${size} (${range}, ${sure}).`;
  const more =
    runs === null ? "" : ` If there is no difference, ${runs} runs of each would tell with a chance of 80 %.`;
  return `Whether ${response.name} with ${factor} ${to} is within ${size} of that with ${from} can't be told (${range}, ${sure}).${more}`;
}
