import { differenceUnit, formatNumber } from "../../units/index.ts";
import { normalQuantile } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import { freshText } from "../fresh-text.ts";
import { percent, unitText } from "../words.ts";
import { fewestByDistance, fewestParts, type Chances, type FoundRule, type Search } from "./find-rule.ts";
import { insideBy } from "./pass-chance.ts";
import type { NoProofPlan, ProofAsked, ProofOfShare, ProofPlan } from "./proof-plan.ts";

/** The most proof runs that can be asked for; beyond it no shop proves a setting. */
const MOST_RUNS = 1000;

/**
 * How many proof runs a recipe needs, and the rule by which they pass or fail, decided before they are cut, with both chances
 * of being wrong: to fail a good recipe, and to pass a bad one, at the true values that are stated.
 *
 * Use it before a recipe is handed on. Rule `parts` counts the parts over the limit (binomial; nothing is supposed about the
 * scatter; a gauge that says only good or bad will do). Rule `mean` asks that the mean lie inside the limit by so many of its
 * own standard deviations; rule `share` that it lie inside by so many standard deviations of single parts, which speaks of a
 * share of parts with far fewer of them than counting (both noncentral t; the scatter must be about normal, with `log` on
 * logarithms). For `mean` and `share` the distance is set so that a bad recipe passes with chance `passBad` at most; the fewest runs
 * that then fail a good one seldom enough are taken. With `log` the rule speaks of geometric mean and scatter factor, which is the same comparison without its logarithms.
 *
 * Returns the plan, or, where no rule of `atMost` runs keeps both chances, what that many would do and what would work. Refuses
 * chances that are not between 0 and 1, a good recipe that is no better than the bad one, a scatter that is not above zero.
 *
 * Source: NIST/SEMATECH e-Handbook, section 6.2.3; Owen, Technometrics 10, 1968, 445–478.
 *
 * Example: good 99 %, bad 80 % of parts within the limit, both chances 0.05: counting needs 22 parts of which one may pass the
 * limit.
 */
export function proofPlan(asked: ProofAsked): ProofPlan | NoProofPlan {
  const {
    limit,
    side,
    unit = "",
    log = false,
    fresh = [],
    failGood = 0.05,
    passBad = 0.05,
    atMost = 100,
  } = asked;
  const chances = { failGood, passBad, atMost };
  refuseChances(chances);
  if (!Number.isFinite(limit) || (log && !(limit > 0)))
    throw modelError(`a limit of ${limit}`, log ? "a number above zero, for logarithms" : "a finite number");
  const truths = truthsOf(asked, { limit, side, log });
  const search = searched(asked, truths, chances);
  const values = { good: truths.good, bad: truths.bad, sigma: truths.sigma };
  const told = {
    rule: asked.rule,
    limit,
    side,
    unit,
    log,
    ...(fresh.length === 0 ? {} : { fresh }),
    ...values,
  };
  if (search.found === null) return noPlan(told, search.nearest, chances);
  const plan = { outcome: "found" as const, ...told, ...search.found };
  return {
    ...plan,
    ruleText: ruleText(plan),
    chancesText: chancesText(plan),
    why: whyText(asked, plan, chances),
  };
}

interface Truths {
  readonly good: number;
  readonly bad: number;
  readonly sigma: number | null;
  readonly goodInside: number;
  readonly badInside: number;
}

function truthsOf(asked: ProofAsked, place: Pick<ProofPlan, "limit" | "side" | "log">): Truths {
  if (asked.rule !== "mean") {
    const { goodShare = 0.99, badShare = 0.8 } = asked;
    for (const [name, share] of [
      ["good", goodShare],
      ["bad", badShare],
    ] as const) {
      if (!(share > 0 && share < 1))
        throw modelError(`a ${name} share of ${share}`, "a number between 0 and 1, such as 0.99");
    }
    if (!(goodShare > badShare))
      throw modelError(
        `a good share of ${goodShare} and a bad one of ${badShare}`,
        "a good share above the bad one",
      );
    const [goodInside, badInside] = [normalQuantile(goodShare), normalQuantile(badShare)];
    return { good: goodShare, bad: badShare, sigma: null, goodInside, badInside };
  }
  const { goodMean, badMean = asked.limit, sigma } = asked;
  if (!(sigma > 0 && Number.isFinite(sigma)))
    throw modelError(`a scatter of ${sigma}`, "the standard deviation from part to part, above zero");
  for (const mean of [goodMean, badMean]) {
    if (!Number.isFinite(mean) || (place.log && !(mean > 0)))
      throw modelError(`a true mean of ${mean}`, place.log ? "a number above zero" : "a finite number");
  }
  const [goodInside, badInside] = [goodMean, badMean].map((mean) => insideBy({ ...place, sigma }, mean));
  if (!(goodInside > badInside)) {
    throw modelError(
      `a good mean of ${goodMean} and a bad one of ${badMean}, with a limit ${place.side === "at-most" ? "from above" : "from below"}`,
      `a good mean ${place.side === "at-most" ? "below" : "above"} the bad one`,
      "Move the recipe further inside the limit.",
    );
  }
  return { good: goodMean, bad: badMean, sigma, goodInside, badInside };
}

function refuseChances({ failGood, passBad, atMost }: Chances): void {
  for (const [name, chance] of [
    ["fail a good recipe", failGood],
    ["pass a bad recipe", passBad],
  ] as const) {
    if (!(chance > 0 && chance < 0.5))
      throw modelError(`a chance of ${chance} to ${name}`, "a number between 0 and 0.5, such as 0.05");
  }
  if (!Number.isInteger(atMost) || atMost < 2 || atMost > MOST_RUNS)
    throw modelError(`at most ${atMost} proof runs`, `a whole number from 2 to ${MOST_RUNS}`);
}

function searched(asked: ProofAsked, truths: Truths, chances: Chances): Search {
  return asked.rule === "parts"
    ? fewestParts(truths.good, truths.bad, chances)
    : fewestByDistance(truths.goodInside, truths.badInside, chances);
}

type Told = Omit<
  ProofPlan,
  "outcome" | "runs" | "criterion" | "failGood" | "passBad" | "ruleText" | "chancesText" | "why"
>;

function noPlan(told: Told, nearest: FoundRule | null, { failGood, passBad, atMost }: Chances): NoProofPlan {
  const what =
    told.rule === "mean"
      ? "Move the recipe further inside the limit, bear larger chances, or cut more."
      : "State a worse bad recipe, bear larger chances, or cut more.";
  const would =
    nearest === null
      ? `${atMost} proof runs can't pass a bad recipe (${truthText(told, told.bad)}) as seldom as ${chanceText(passBad)} by any rule.`
      : `${nearest.runs} proof runs that pass a bad recipe (${truthText(told, told.bad)}) no oftener than ${chanceText(passBad)} would fail a good one (${truthText(told, told.good)}) with chance ${chanceText(nearest.failGood)}, more than the ${chanceText(failGood)} asked.`;
  return {
    outcome: "none",
    rule: told.rule,
    atMost,
    failGood: nearest?.failGood ?? null,
    reason: `${would} ${what}`,
  };
}

type Ruled = Told & FoundRule;

function ruleText(plan: Ruled): string {
  const { runs, criterion, side, log } = plan;
  const limit = withUnit(plan, plan.limit);
  const own = freshText(plan.fresh ?? []);
  const cut = `Cut ${runs} part${runs === 1 ? "" : "s"} at the recipe's setting${own === "" ? "" : `, each ${own}`}`;
  if (criterion.kind === "count") {
    const over = side === "at-most" ? "above" : "below";
    const passes =
      criterion.mostOver === 0
        ? `no part is ${over} ${limit}`
        : `at most ${criterion.mostOver} of them ${criterion.mostOver === 1 ? "is" : "are"} ${over} ${limit}`;
    return `${cut}: it passes if ${passes}, else it fails.`;
  }
  const k = String(criterion.standardDeviations);
  if (log) {
    // Their logarithms' mean and k standard deviations against the logarithm of the limit, said as what a calculator shows.
    const figures = `their geometric mean, ${side === "at-most" ? "times" : "divided by"} their scatter factor to the power ${k}, is ${side === "at-most" ? "at most" : "at least"} ${limit}`;
    return `${cut}: it passes if ${figures}, else it fails. On a pocket calculator: take ln of each part's reading; e to the mean of these is the geometric mean, and e to their standard deviation (divided by ${runs - 1}, not ${runs}) is the scatter factor.`;
  }
  const where = side === "at-most" ? "below" : "above";
  return `${cut}: it passes if the mean lies ${where} ${limit} by at least ${k} times the standard deviation of these ${runs} parts, else it fails.`;
}

function chancesText(plan: Ruled): string {
  return `A good recipe (${truthText(plan, plan.good)}) fails with chance ${chanceText(plan.failGood)}; a bad one (${truthText(plan, plan.bad)}) passes with chance ${chanceText(plan.passBad)}.`;
}

function truthText(plan: Told, truth: number): string {
  if (plan.rule !== "mean") return `${percent(truth)} of parts within the limit`;
  const scatter = plan.log
    ? `, scatter ${formatNumber(100 * (plan.sigma ?? 0), { digits: 2 })} % of its value`
    : `, scatter ${withUnit({ unit: differenceUnit(plan.unit) }, plan.sigma ?? 0, 2)}`;
  return `true ${plan.log ? "median" : "mean"} ${withUnit(plan, truth)}${scatter}`;
}

function whyText(asked: ProofAsked, plan: Ruled, chances: Chances): string {
  switch (plan.rule) {
    case "mean":
      return `The recipe promises a ${plan.log ? "median" : "mean"}, so the ${plan.log ? "geometric mean" : "mean"} of the proof runs decides.${
        plan.bad === plan.limit
          ? ` Their own scatter is used: a wrong guess of it may fail a good recipe oftener, but a recipe ${plan.log ? "with its median" : "with its mean"} on the limit passes no oftener than stated.`
          : " The distance stands on the scatter that is stated."
      }`;
    case "parts":
      return "Parts are counted: nothing is supposed about how they scatter, and a gauge that only says good or bad will do.";
    case "share":
      return `The size of each reading is used, not only its side of the limit: ${plan.runs} parts do what ${countingText(asked as ProofOfShare, chances)} would do by counting. It stands on scatter that is about normal${plan.log ? " as ratios" : ""}; where it is not, count parts.`; // the rule says which asked it is
  }
}

function countingText({ goodShare = 0.99, badShare = 0.8 }: ProofOfShare, chances: Chances): string {
  const { found } = fewestParts(goodShare, badShare, { ...chances, atMost: MOST_RUNS });
  return found === null ? `more than ${MOST_RUNS}` : String(found.runs);
}

function withUnit({ unit }: Pick<ProofPlan, "unit">, value: number, digits = 4): string {
  return `${formatNumber(Number(value.toPrecision(digits)))}${unitText(unit)}`;
}

/** Two figures: a chance is not known better than its scatter. */
function chanceText(chance: number): string {
  return percent(Number(chance.toPrecision(2)));
}
