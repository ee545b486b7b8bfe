import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { fitPowerLaw, isInterval, recipes, type Uncertain } from "../../src/model/index.ts";
import { openTrial } from "../../src/store/index.ts";

/** Base R's lm, anova and predict on the same files; the script that made them is second-road.R beside the fixture. */
interface SecondRoad {
  readonly factorial: Readonly<
    Record<"halvingFeed" | "feedLowToHigh" | "speedLowToHigh" | "usedAgainstFresh" | "at", Range> &
      Record<"residualSd" | "rSquared" | "lackOfFitF" | "lackOfFitP", number> &
      Record<"studentised" | "leverage", readonly number[]> &
      Record<"largestFeedForMean" | "largestFeedForNextPart", number>
  > & { readonly shares: { readonly repeats: number; readonly spots: number; readonly runs: number } };
  readonly sweep: { readonly halvingFeed: Range; readonly residualSd: number };
}
interface Range {
  readonly estimate: number;
  readonly low: number;
  readonly high: number;
}

const reference = JSON.parse(
  readFileSync(new URL("../fixtures/demo/second-road.json", import.meta.url), "utf8"),
) as SecondRoad;

const factorial = await openTrial("seal-face-factorial");
const fit = fitPowerLaw(factorial, { response: "Ra" });
const sweep = fitPowerLaw(await openTrial("seal-face-feed-sweep"), { response: "Ra" });

/** Both roads are double precision with t quantiles good to 14 digits, on a well-conditioned model: nine digits leave room for R's own rounding. */
const digits = 9;
const near = (value: number, expected: number) => expect(value / expected).toBeCloseTo(1, digits);
function nearRange(value: Uncertain | Range, expected: Range) {
  if ("reason" in value) throw new Error(value.reason);
  near(value.estimate, expected.estimate);
  near(value.low, expected.low);
  near(value.high, expected.high);
}
const effectOf = (factor: string) => {
  const effect = fit.effects.find((one) => one.factor === factor);
  if (!effect) throw new Error(`no effect of ${factor}`);
  return effect.value;
};

describe("the numbers on the factorial's page, by a second road", () => {
  test("ratios and their intervals", () => {
    nearRange(fit.ratio("feed", 0.5), reference.factorial.halvingFeed);
    nearRange(effectOf("feed"), reference.factorial.feedLowToHigh);
    nearRange(effectOf("speed"), reference.factorial.speedLowToHigh);
    nearRange(effectOf("edge"), reference.factorial.usedAgainstFresh);
  });

  test("scatter, share explained and lack of fit", () => {
    near(fit.residualSd ?? NaN, reference.factorial.residualSd);
    near(fit.rSquared ?? NaN, reference.factorial.rSquared);
    near(fit.lackOfFit?.f ?? NaN, reference.factorial.lackOfFitF);
    near(fit.lackOfFit?.p ?? NaN, reference.factorial.lackOfFitP);
  });

  test("every studentised residual and leverage", () => {
    fit.rows.forEach((row, index) => {
      expect(row.studentised).toBeCloseTo(reference.factorial.studentised[index], digits);
      near(row.leverage ?? NaN, reference.factorial.leverage[index]);
    });
    expect(fit.rows).toHaveLength(reference.factorial.leverage.length);
  });

  test("the prediction of the mean at a setting", () => {
    const { estimate, mean } = fit.predict({ feed: 0.15, speed: 1700, edge: "used" });
    nearRange({ estimate, low: mean?.low ?? NaN, high: mean?.high ?? NaN }, reference.factorial.at);
  });

  test("shares of repeat, spot and run in the variance of one reading, from mean squares", () => {
    const share = (source: string) => fit.repeats?.shares.find((one) => one.source === source)?.share ?? NaN;
    near(share("repeat"), reference.factorial.shares.repeats);
    near(share("spot"), reference.factorial.shares.spots);
    near(share("run"), reference.factorial.shares.runs);
  });

  test("the largest feed for the mean and for the next part, before rounding down and after", () => {
    const answer = recipes(factorial, fit, { limit: 0.8, factor: "feed", at: { edge: "used", speed: 1700 } });
    const [mean, next] = answer.recipes;
    near(mean.edge ?? NaN, reference.factorial.largestFeedForMean);
    near(next.edge ?? NaN, reference.factorial.largestFeedForNextPart);
    expect(mean.setting).toBe(Math.floor(reference.factorial.largestFeedForMean / 0.01) * 0.01);
    expect(next.setting).toBe(Math.floor(reference.factorial.largestFeedForNextPart / 0.01) * 0.01);
  });
});

describe("the numbers on the sweep's page, by a second road", () => {
  test("what halving the feed does, and the scatter", () => {
    expect(isInterval(sweep.ratio("feed", 0.5))).toBe(true);
    nearRange(sweep.ratio("feed", 0.5), reference.sweep.halvingFeed);
    near(sweep.residualSd ?? NaN, reference.sweep.residualSd);
  });
});
