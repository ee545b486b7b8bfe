import { tQuantile, tTwoSided, tUpperQuantile } from "../../numerics/index.ts";
import { isMixedFit } from "../mixed/index.ts";
import { once } from "../once.ts";
import { interval, withReason } from "../words.ts";
import { holmAdjusted } from "./adjusted.ts";
import type { AskedComparison, CompareOptions } from "./compare-options.ts";
import type { ComparedLevel, LevelPair } from "./comparison.ts";
import { levelContrasts, type LevelContrasts } from "./level-contrasts.ts";
import { everyPair, withControl, type Joint, type PlacePair } from "./simultaneous.ts";

/** A pair without its words. Its p is worked out when it is read: the joint distributions take longer than all the rest. */
export interface BarePair extends Omit<LevelPair, "sentence" | "p"> {
  readonly p: () => number | null;
}

/** Pairs and levels by one way of comparing, with the way in words. */
export interface Compared {
  readonly levels: readonly ComparedLevel[];
  readonly pairs: readonly BarePair[];
  readonly methodText: string;
  readonly notes: readonly string[];
}

const methodTexts: Readonly<Record<Joint["kind"], string>> = {
  single: "Two levels compared by Student’s t.",
  range:
    "Every pair compared, with intervals that hold all together, by the studentised range (Tukey 1953, The Problem of Multiple Comparisons).",
  "range-unequal":
    "Every pair compared, with intervals that hold all together, by the studentised range for unequal numbers of runs (Tukey 1953; Kramer 1956, Biometrics 12, 307–310), which is on the safe side.",
  "many-to-one":
    "Each level compared with one control, with intervals that hold all together, exactly for these numbers of runs (Dunnett 1955, Journal of the American Statistical Association 50, 1096–1121; 1964, Biometrics 20, 482–491).",
  shared:
    "The chance of error is shared evenly over the pairs (Bonferroni), so that all intervals hold together: there is less than one degree of freedom for the joint distribution.",
  spherical:
    "Intervals that hold all together for differences that vary together as these do in this model (Somerville 1997, Computational Statistics and Data Analysis 25, 217–233).",
};

/** Which levels are set beside which. */
export function placePairs(levels: number, control: number | null): readonly PlacePair[] {
  const places = Array.from({ length: levels }, (_, i) => i);
  if (control !== null)
    return places.filter((place) => place !== control).map((place): PlacePair => [control, place]);
  return places.flatMap((from) => places.slice(from + 1).map((to): PlacePair => [from, to]));
}

/** Levels compared by what the fit says of their means, with one scatter for all. */
export function comparedByMeans(
  asked: AskedComparison,
  { adjust = "simultaneous" }: CompareOptions,
): Compared {
  const { fit, factor, levels, control, confidence } = asked;
  const contrasts = levelContrasts(fit, factor);
  const pairs = placePairs(levels.length, control);
  const why = whyNoInterval(asked);
  const judged = why === "" ? judge(contrasts, pairs, { control, adjust, confidence }) : null;
  return {
    levels: levelsOf(asked, contrasts, why),
    pairs: pairs.map(([from, to], i): BarePair => {
      const difference = contrasts.difference(from, to);
      const named = { from: levels[from], to: levels[to], as: as(asked) };
      if (judged === null) {
        const value = withReason(inseparable(asked) === "" ? told(asked, difference) : null, why);
        return { ...named, value, standardError: null, df: null, p: () => null };
      }
      const standardError = Math.sqrt(contrasts.covarianceOf([from, to], [from, to]));
      const df = contrasts.differenceDf([from, to]);
      return {
        ...named,
        value: toldInterval(asked, difference, judged.reach(df) * standardError),
        standardError,
        df,
        p: judged.p[i],
      };
    }),
    methodText:
      judged === null ? "No method: there is no scatter to judge by." : `${judged.text}${dfText(asked)}`,
    notes: productNotes(asked),
  };
}

function judge(
  contrasts: LevelContrasts,
  pairs: readonly PlacePair[],
  options: {
    readonly control: number | null;
    readonly adjust: "simultaneous" | "holm";
    readonly confidence: number;
  },
): {
  readonly reach: (df: number) => number;
  readonly p: readonly (() => number)[];
  readonly text: string;
} {
  const { control, adjust, confidence } = options;
  const t = pairs.map(
    (pair) => Math.abs(contrasts.difference(...pair)) / Math.sqrt(contrasts.covarianceOf(pair, pair)),
  );
  const df = pairs.map(contrasts.differenceDf);
  if (adjust === "holm") {
    const share = (1 - confidence) / pairs.length;
    const p = once(() => holmAdjusted(t.map((value, i) => tTwoSided(value, df[i]))));
    return {
      reach: (own) => tUpperQuantile(share / 2, own),
      p: t.map((_, i) => () => p()[i]),
      text: holmText,
    };
  }
  const joint = (control === null ? everyPair : withControl)(contrasts, pairs, confidence);
  return {
    reach: joint.reach,
    p: t.map((value, i) => () => joint.tail(value, df[i])),
    text: methodTexts[joint.kind],
  };
}

/** How a mixed fit comes to its degrees of freedom; nothing for one scatter. */
function dfText({ fit }: AskedComparison): string {
  if (!isMixedFit(fit)) return "";
  const by =
    fit.smallSample === "kenward-roger"
      ? "Kenward and Roger 1997, Biometrics 53, 983–997"
      : "Satterthwaite 1946, Biometrics Bulletin 2, 110–114";
  return ` Each difference is judged by the sources of scatter that it rests on, with degrees of freedom of its own (${by}).`;
}

export const holmText =
  "p by Holm’s steps (Holm 1979, Scandinavian Journal of Statistics 6, 65–70), intervals by sharing the chance of error evenly over the pairs (Bonferroni), so that all hold together.";

function whyNoInterval(asked: AskedComparison): string {
  const { fit } = asked;
  const set = inseparable(asked);
  if (set !== "") return set;
  if (fit.noInterval !== "") return fit.noInterval;
  return fit.residualSd === 0
    ? "every run is met exactly, so there is no scatter to judge by; look whether readings were copied, or read with more digits"
    : "";
}

/** Why the levels can't be told from something else; empty where they can. */
function inseparable({ fit, factor }: AskedComparison): string {
  const set = fit.inseparable.find(({ terms }) =>
    terms.some((term) => {
      const keys = Object.keys(term);
      return keys.length === 1 && (keys[0] === factor || keys[0].startsWith(`${factor}=`));
    }),
  );
  return set?.text ?? "";
}

function productNotes({ fit, factor }: AskedComparison): readonly string[] {
  const others = fit.terms.filter((term) => Object.hasOwn(term, factor) && Object.keys(term).length > 1);
  if (others.length === 0) return [];
  const names = [...new Set(others.flatMap((term) => Object.keys(term)))].filter((name) => name !== factor);
  return [
    `In this model what ${factor} does depends on ${names.join(" and ")}: the levels are compared with ${names.join(" and ")} in the middle, and may differ elsewhere.`,
  ];
}

export function as({ fit }: AskedComparison): LevelPair["as"] {
  return fit.logScale ? "ratio" : "difference";
}

/** A number on the scale that was compared as it is told. */
export function told({ fit }: AskedComparison, value: number): number {
  return fit.logScale ? Math.exp(value) : value;
}

export function toldInterval(asked: AskedComparison, centre: number, half: number): LevelPair["value"] {
  return interval(
    told(asked, centre),
    told(asked, centre - half),
    told(asked, centre + half),
    asked.confidence,
  );
}

function levelsOf(asked: AskedComparison, contrasts: LevelContrasts, why: string): readonly ComparedLevel[] {
  const { fit, factor, levels, groups, confidence } = asked;
  return levels.map((level, i) => {
    const runs = fit.rows.filter((row) => String(row.settings[factor]) === level).length;
    const mean =
      why === "" && contrasts.covariance !== null
        ? toldInterval(
            asked,
            contrasts.means[i],
            tQuantile((1 + confidence) / 2, contrasts.meanDf(i)) *
              Math.sqrt(Math.max(0, contrasts.covariance[i][i])),
          )
        : withReason(told(asked, contrasts.means[i]), why);
    return { level, runs, mean, standardDeviation: standardDeviationOf(groups?.[i]) };
  });
}

/** Null with fewer than two values. */
export function standardDeviationOf(values: readonly number[] | undefined): number | null {
  if (values === undefined || values.length < 2) return null;
  const centre = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (values.length - 1));
}
