import type { Trial } from "../../trial/index.ts";
import { formatNumber } from "../../units/index.ts";
import {
  scatterBeside,
  unequalScatter,
  type ScatterBeside,
  type UnequalScatter,
} from "../dispersion/index.ts";
import { modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import type { Observations } from "../observations.ts";
import { once } from "../once.ts";
import { pText } from "../words.ts";
import { comparedByMeans } from "./by-means.ts";
import type { BarePair, Compared } from "./by-means.ts";
import { comparedByOwnScatter } from "./by-own-scatter.ts";
import { comparedByRanks } from "./by-ranks.ts";
import { askedComparison } from "./compare-options.ts";
import type { AskedComparison, CompareOptions } from "./compare-options.ts";
import type { Comparison, ComparisonMethod, LevelPair, OverallTest } from "./comparison.ts";
import { kruskalWallis } from "./kruskal-wallis.ts";
import { pairSentence, type PairWords } from "./pair-sentence.ts";
import { levelMoments, welchOverall } from "./welch.ts";

/**
 * Compares the levels of a category, such as edges, coolants or cutters: every pair, or each with one control, with intervals that hold all
 * together. Other factors and blocks of a trial, observations or fit are allowed for: levels are then compared with the others in their middle.
 *
 * On a log scale what is told are ratios. Where the runs say that levels scatter differently (beside blocks and other factors from what the model leaves over, see
 * `scatterBeside`), `notes` offers the way for that (`scatter: "unequal"`), or
 * logarithms where these mend it. Every pair says how far apart it is and how sure, or what difference could have been missed.
 * From a mixed fit (`fitMixed`) each difference is judged by the sources of scatter that it rests on, on degrees of freedom of its own.
 * Levels that the runs can't tell from another factor, and runs without scatter, are answers with their reason. Refused: a factor with one level,
 * an unknown level, a quantity, one run a level where each level's own scatter is wanted, other factors beside ranks or unequal scatter.
 *
 * Accuracy: p and intervals as exact as `studentisedRangeTail` and `manyToOneTail`; 1e-3 relative where a model makes the variances unlike.
 * Example: the four groups of five of the NIST/SEMATECH e-Handbook, 7.4.7.1: group 1 to 3 differ by 3.22, 95 % 1.13 to 5.31.
 */
export function compareLevels(source: Trial | Observations | Fit, options: CompareOptions = {}): Comparison {
  const { by = "means", scatter = "alike", adjust = "simultaneous" } = options;
  if (by === "ranks" && scatter === "unequal")
    throw modelError(
      "ranks with unequal scatter",
      "one or the other",
      "Ranks assume one shape and one scatter.",
    );
  const asked = askedComparison(source, options);
  const { fit, factor, levels, control, confidence, groups } = asked;
  const compared =
    by === "ranks"
      ? comparedByRanks(asked)
      : scatter === "unequal"
        ? comparedByOwnScatter(asked, options)
        : comparedByMeans(asked, options);
  const method: ComparisonMethod =
    by === "ranks"
      ? "ranks"
      : scatter === "unequal"
        ? "unequal-scatter"
        : adjust === "holm"
          ? "holm"
          : control === null
            ? "every-pair"
            : "with-control";
  const evidence = groups === null ? null : unequalScatter(groups);
  // Drawn when it is read: simulations compare by the thousand and never look.
  const beside = once(() => (groups === null ? scatterBeside(fit, factor) : null));
  return {
    factor,
    response: fit.response,
    method,
    methodText: compared.methodText,
    control: control === null ? null : levels[control],
    confidence,
    logScale: fit.logScale,
    levels: compared.levels,
    pairs: compared.pairs.map((pair) =>
      pairInWords(pair, {
        factor,
        response: fit.response,
        pairs: compared.pairs.length,
        confidence,
        of: by === "ranks" ? "readings" : "means",
      }),
    ),
    overall: overallOf(asked, method),
    scatter: evidence,
    get scatterBeside() {
      return beside();
    },
    get notes() {
      return [
        ...fit.notes,
        ...compared.notes,
        ...offer(asked, compared, method, evidence),
        ...offerBeside(asked, beside()),
      ];
    },
  };
}

/** p and the sentence that tells it are made when they are read. */
function pairInWords(pair: BarePair, words: PairWords): LevelPair {
  const p = once(pair.p);
  const sentence = once(() => pairSentence({ ...pair, p: p() }, words));
  return {
    ...pair,
    get p() {
      return p();
    },
    get sentence() {
      return sentence();
    },
  };
}

function overallOf(asked: AskedComparison, method: ComparisonMethod): OverallTest | null {
  const { fit, factor, groups } = asked;
  if (method === "ranks") return groups === null ? null : kruskalWallis(groups);
  if (method === "unequal-scatter") return groups === null ? null : welchOverall(groups.map(levelMoments));
  const row = fit.analysisLast.find(
    ({ term }) => term !== null && Object.keys(term).length === 1 && Object.hasOwn(term, factor),
  );
  if (row === undefined || row.f === null || row.p === null || !Number.isFinite(row.f)) return null;
  const dfScatter = row.denominatorDf ?? fit.residualDf;
  const shown = Number.isInteger(dfScatter) ? String(dfScatter) : formatNumber(dfScatter, { digits: 3 });
  return {
    statistic: row.f,
    df: row.df,
    dfScatter,
    p: row.p,
    text: `All levels together: F ${formatNumber(row.f, { digits: 3 })} on ${row.df} and ${shown}, p ${pText(row.p)}.`,
  };
}

/** What the runs say for another way of comparing; nothing where the way asked for suits them. */
function offer(
  asked: AskedComparison,
  compared: Compared,
  method: ComparisonMethod,
  scatter: UnequalScatter | null,
): readonly string[] {
  if (scatter === null || !scatter.evidence || method === "unequal-scatter") return [];
  if (method === "ranks")
    return [
      `${scatter.text} Ranks take the shapes to be alike, so a difference by ranks may be one of scatter.`,
    ];
  const { fit, groups } = asked;
  const positive = groups!.every((group) => group.every((value) => value > 0));
  if (!fit.logScale && positive) {
    const logs = unequalScatter(groups!.map((group) => group.map(Math.log)));
    if (logs !== null && !logs.evidence)
      return [`${scatter.text} On logarithms no difference in scatter is seen: compare as ratios (log).`];
  }
  if (compared.levels.some(({ runs }) => runs < 2)) return [scatter.text];
  return [`${scatter.text} Compare each level with its own scatter (unequal scatter).`];
}

/** What uneven scatter means where other factors or blocks are in the model, and what mends it. */
function offerBeside({ fit, factor }: AskedComparison, found: ScatterBeside | null): readonly string[] {
  if (found === null || !found.evidence) return [];
  if (!fit.logScale && fit.rows.every(({ value }) => value > 0)) {
    const logs = scatterBeside(fit, factor, { of: fit.rows.map(({ value }) => Math.log(value)) });
    if (logs !== null && !logs.evidence)
      return [`${found.text} On logarithms no difference in scatter is seen: compare as ratios (log).`];
  }
  const others = fit.blocks === null ? "other factors" : "blocks";
  return [
    `${found.text} Intervals of pairs with a level of much scatter are then too short, those of steady levels too long. Leave the ${others} out of the comparison to give each level its own scatter (unequal scatter), or cut more runs of the unsteady level.`,
  ];
}
