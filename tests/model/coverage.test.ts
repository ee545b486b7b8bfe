import { describe, expect, test } from "vitest";
import { fitLinear, fitPowerLaw, isInterval, largestSetting, observeTable } from "../../src/model/index.ts";
import type { Fit } from "../../src/model/index.ts";
import { seededRandom } from "../../src/numerics/index.ts";

const corners = [0.08, 0.16, 0.24].flatMap((feed) =>
  [500, 1000].flatMap((speed) => ["fresh", "used"].map((edge) => ({ feed, speed, edge }))),
);
const trials = 1000;
/** Four standard errors of a share of 0.95 in this many trials: a right interval passes but for one time in 15,000. */
const allowed = 4 * Math.sqrt((0.95 * 0.05) / trials);

/** The observations of one drawn trial of 12 runs: Ra = 12 · feed^1.4 · speed^−0.2, a fifth more with a used edge, scatter on the log scale or plain. */
function drawn(random: ReturnType<typeof seededRandom>, scatter: "log" | "plain") {
  const values = corners.map(({ feed, speed, edge }) => {
    const mean =
      scatter === "log"
        ? 12 * feed ** 1.4 * speed ** -0.2 * (edge === "used" ? 1.2 : 1)
        : 0.2 + 3 * feed - speed / 1e4 + (edge === "used" ? 0.1 : 0);
    return scatter === "log" ? mean * Math.exp(0.1 * random.normal()) : mean + 0.05 * random.normal();
  });
  return observeTable(
    {
      columns: [
        { name: "feed", unit: "", values: corners.map(({ feed }) => feed) },
        { name: "speed", unit: "", values: corners.map(({ speed }) => speed) },
        { name: "edge", unit: "", values: corners.map(({ edge }) => edge) },
        { name: "Ra", unit: "", values },
      ],
    },
    { response: "Ra", factors: ["feed", "speed", "edge"] },
  );
}

/** Share of the drawn trials in which what is asked holds. */
function share(
  seed: number,
  scatter: "log" | "plain",
  holds: (fit: Fit, random: ReturnType<typeof seededRandom>) => boolean,
): number {
  const random = seededRandom(seed);
  let held = 0;
  for (let t = 0; t < trials; t++) {
    const observations = drawn(random, scatter);
    const fit = scatter === "log" ? fitPowerLaw(observations) : fitLinear(observations);
    if (holds(fit, random)) held++;
  }
  return held / trials;
}

const near = (found: number) => expect(Math.abs(found - 0.95)).toBeLessThan(allowed);

describe("95 % intervals hold the truth about 95 times in 100 (seeds 101 to 107)", () => {
  test("effects in the response's unit", () => {
    near(
      share(
        101,
        "plain",
        ({ effects: [{ value }] }) => isInterval(value) && value.low < 0.48 && value.high > 0.48,
      ),
    );
  });

  test("effects as ratios, and what halving the feed does", () => {
    near(
      share(
        102,
        "log",
        ({ effects: [, , { value }] }) => isInterval(value) && value.low < 1.2 && value.high > 1.2,
      ),
    );
    near(
      share(103, "log", (fit) => {
        const value = fit.ratio("feed", 0.5);
        return isInterval(value) && value.low < 0.5 ** 1.4 && value.high > 0.5 ** 1.4;
      }),
    );
  });

  test("the mean at a setting, and the next run there", () => {
    const truth = 0.2 + 3 * 0.2 - 0.08 + 0.1;
    const at = { feed: 0.2, speed: 800, edge: "used" };
    near(
      share(104, "plain", (fit) => {
        const { low, high } = fit.predict(at).mean!;
        return low < truth && high > truth;
      }),
    );
    near(
      share(105, "plain", (fit, random) => {
        const { low, high } = fit.predict(at).single!;
        const next = truth + 0.05 * random.normal();
        return low < next && high > next;
      }),
    );
  });

  test("the lack of fit fires 5 times in 100 on a right model", () => {
    const random = seededRandom(106);
    const x = [1, 1, 2, 2, 3, 3, 4, 4];
    let fired = 0;
    for (let t = 0; t < trials; t++) {
      const observations = observeTable(
        {
          columns: [
            { name: "x", unit: "", values: x },
            { name: "y", unit: "", values: x.map((v) => 2 * v + random.normal()) },
          ],
        },
        { response: "y", factors: ["x"] },
      );
      if (fitLinear(observations).lackOfFit!.p < 0.05) fired++;
    }
    near(1 - fired / trials);
  });
});

describe("a recipe keeps its assurance (seed 108)", () => {
  test("at the edge of the recipe for the next part, 95 in 100 next parts keep the limit", () => {
    // At the setting where the bound just meets the limit, trial by trial, before it is rounded down. That setting is chosen by the data, so
    // the share is not 0.95 by theory; with these runs it stays within two in a hundred of it.
    const random = seededRandom(108);
    let [kept, found] = [0, 0];
    for (let t = 0; t < 300; t++) {
      const fit = fitPowerLaw(drawn(random, "log"));
      const { edge: end, outcome } = largestSetting(fit, {
        factor: "feed",
        limit: 0.4,
        at: { speed: 800, edge: "fresh" },
      });
      if (outcome !== "found") continue;
      found++;
      if (12 * end! ** 1.4 * 800 ** -0.2 * Math.exp(0.1 * random.normal()) <= 0.4) kept++;
    }
    expect(found).toBeGreaterThan(295);
    expect(kept / found).toBeGreaterThan(0.93 - 4 * Math.sqrt((0.95 * 0.05) / found) + 0.02);
    expect(kept / found).toBeLessThan(0.97 + 4 * Math.sqrt((0.95 * 0.05) / found) - 0.02);
  });
});
