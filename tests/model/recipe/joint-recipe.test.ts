import { describe, expect, test } from "vitest";
import { passConditions } from "../../../src/cutting/index.ts";
import { jointRecipe, type Fit, type JointRecipeOptions } from "../../../src/model/index.ts";
import { boundMultiple } from "../../../src/model/recipe/bound-multiple.ts";
import type { Settings, Trial } from "../../../src/trial/index.ts";
import { drawnTrial, quantities } from "./several-responses.ts";

type Quantity = keyof typeof quantities;

/** The plain road: every machine setting, each bound from the fit's own prediction and the exact multiple. */
function bruteForce(
  { trial, fits }: { readonly trial: Trial; readonly fits: readonly Fit[] },
  factors: readonly Quantity[],
  whom: "mean" | "share" | "next",
  limits: readonly number[],
): { readonly settings: Settings; readonly removal: number } | null {
  let places: Settings[] = [{}];
  for (const name of factors) {
    const { low, high, increment } = quantities[name];
    const all: number[] = [];
    for (let k = Math.ceil(low / increment - 1e-9); k * increment <= high * (1 + 1e-9); k++)
      all.push(Number((k * increment).toPrecision(12)));
    places = places.flatMap((one) => all.map((setting) => ({ ...one, [name]: setting })));
  }
  let best: { settings: Settings; removal: number } | null = null;
  for (const settings of places) {
    const pass = passConditions(trial.spec, settings);
    if ((pass.spindleSpeedRevPerMin ?? 0) > 1300) continue;
    if (best !== null && (pass.removalRateCm3PerMin ?? 0) <= best.removal * (1 + 1e-12)) continue;
    const isKept = fits.every((fit, k) => {
      const { estimate, mean, extrapolation } = fit.predict(settings, { confidence: 0.9 });
      if (extrapolation.length > 0 || mean === null || fit.residualSd === null) return false;
      const half = Math.log(mean.high / estimate);
      const promise = { for: whom, share: 0.95, parts: 1, assurance: 0.95 } as const;
      const t = boundMultiple({ ...promise, for: "mean" }, 1, fit.residualDf);
      const leverage = (half / (t * fit.residualSd)) ** 2;
      const bound = Math.log(estimate) + boundMultiple(promise, leverage, fit.residualDf) * fit.residualSd;
      return bound <= Math.log(limits[k] ?? NaN);
    });
    if (isKept) best = { settings, removal: pass.removalRateCm3PerMin ?? NaN };
  }
  return best;
}

describe("a recipe with several limits", () => {
  const machine = { machine: { maxSpeed: "1300 rev/min" } };

  test.each([
    { factors: ["feed"], model: "power-law", whom: "share", seed: 4 },
    { factors: ["feed", "speed"], model: "power-law", whom: "mean", seed: 1 },
    { factors: ["feed", "speed"], model: "surface", whom: "share", seed: 2 },
    { factors: ["feed", "speed", "depth"], model: "surface", whom: "next", seed: 3 },
  ] as const)("is the best of every machine setting, tried one by one: $factors, $whom", (given) => {
    const drawn = drawnTrial({ ...given, more: machine });
    const recipe = jointRecipe(drawn.trial, drawn.fits, {
      limits: { Ra: { for: given.whom }, power: { for: given.whom, limit: 2.6 } },
    });
    const plain = bruteForce(drawn, given.factors, given.whom, [0.8, 2.6]);
    expect(recipe.outcome).toBe("found");
    expect(recipe.search.exact).toBe(true);
    expect(recipe.removalRateCm3PerMin! / plain!.removal).toBeCloseTo(1, 12);
    expect(
      recipe.limits.every(({ isKept, marginInSd }) => isKept && marginInSd !== null && marginInSd >= 0),
    ).toBe(true);
  });

  const drawn = drawnTrial({ more: { ...machine, today: { feed: 0.1, speed: 800 } } });
  const ask = (options: JointRecipeOptions = {}) => jointRecipe(drawn.trial, drawn.fits, options);

  test("tells what stops it, and the machine counts among that", () => {
    const power = ask({ limits: { Ra: { limit: 2, for: "mean" }, power: { limit: 2, for: "mean" } } });
    expect(power.binding).toEqual(["power"]);
    const free = ask({ limits: { Ra: { limit: 20 }, power: { limit: 30 } } });
    expect(free.binding).toEqual([]);
    expect(free.stops).toEqual([
      { factor: "feed", direction: "up", next: null, by: ["range"] },
      { factor: "speed", direction: "up", next: 1350, by: ["machine"] },
    ]);
    expect(free.settings).toMatchObject({ feed: 0.24, speed: 1300 });
  });

  test("compares itself with today and adds up assurances against itself", () => {
    const recipe = ask({ limits: { Ra: { assurance: 0.99 }, power: { assurance: 0.95 } } });
    expect(recipe.today?.minutes).toBeGreaterThan(recipe.minutes!);
    expect(recipe.removalRatio).toBeCloseTo(
      recipe.removalRateCm3PerMin! / recipe.today!.removalRateCm3PerMin!,
      12,
    );
    expect(recipe.assuranceTogether).toBeCloseTo(0.94, 12);
    expect(recipe.text).toContain("Both together hold with at least 94 % assurance.");
  });

  test("more assurance, a larger share and more parts never gain removal", () => {
    const removal = (limit: object): number =>
      ask({ limits: { Ra: limit, power: limit } }).removalRateCm3PerMin!;
    const mean = removal({ for: "mean" });
    expect(removal({ for: "mean", assurance: 0.5 })).toBeGreaterThanOrEqual(mean);
    expect(removal({ for: "next" })).toBeLessThanOrEqual(mean);
    expect(removal({ for: "next", parts: 50 })).toBeLessThanOrEqual(removal({ for: "next" }));
    expect(removal({ share: 0.99 })).toBeLessThanOrEqual(removal({ share: 0.9 }));
  });

  test("brings proof runs with both chances for each limit", () => {
    for (const { plan } of ask().proof) {
      expect(plan?.outcome).toBe("found");
      if (plan?.outcome !== "found") continue;
      expect(plan.failGood).toBeLessThanOrEqual(0.05);
      expect(plan.passBad).toBeLessThanOrEqual(0.05);
    }
  });

  test("without a setting says so, and which limit is broken at the nearest", () => {
    const none = ask({ limits: { Ra: { limit: 0.05 } } });
    expect(none.outcome).toBe("none");
    expect(none.reason).toContain("Ra");
    expect(none.proof).toEqual([]);
    expect(none.settings).toMatchObject({ feed: 0.08 });
    expect(none.limits[0]).toMatchObject({ isKept: false });
  });

  test("pushes the product of named quantities, or the time of a pass", () => {
    const time = ask({ objective: "time" });
    const product = ask({ objective: { product: ["feed", "speed"] } });
    expect(product.settings).toEqual(time.settings);
    expect(() => ask({ objective: { product: ["depth"] } })).toThrow(/depth to push/);
  });

  test("goes beyond what was cut only when asked, and says so", () => {
    const free = { limits: { Ra: { limit: 20 }, power: { limit: 30 } } };
    expect(ask({ ...free, beyond: { feed: { high: 0.3 } } })).toMatchObject({
      settings: { feed: 0.3 },
      extrapolation: ["feed"],
    });
    expect(ask(free).extrapolation).toEqual([]);
  });

  test.each([
    [{ limits: { Rz: {} } }, /"Rz", which is not fitted/],
    [{ limits: { Ra: { assurance: 0.3 } } }, /assurance of 0.3/],
    [{ limits: { Ra: { limit: -1 } } }, /above zero/],
    [{ limits: { Ra: { share: 1 } } }, /share of 1/],
    [{ at: { feed: 0.15, speed: 1000 } }, /no quantity to search/],
    [{ at: { tilt: 2 } }, /unknown factor "tilt"/],
    [{ at: { feed: 0.5 } }, /outside what was cut/],
  ] satisfies readonly (readonly [JointRecipeOptions, RegExp])[])("refuses %j", (options, message) => {
    expect(() => ask(options)).toThrow(message);
  });
});
