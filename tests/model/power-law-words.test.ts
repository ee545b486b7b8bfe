import { describe, expect, test } from "vitest";
import { besideCusp, fitLinear, fitPowerLaw, meanOverMedian, observeTable } from "../../src/model/index.ts";
import { seededRandom } from "../../src/numerics/index.ts";

const feeds = [0.08, 0.12, 0.16, 0.24];
function table(runs: number, law: (feed: number) => number) {
  const cut = Array.from({ length: runs }, (_, run) => feeds[run % 4]);
  return observeTable(
    {
      columns: [
        { name: "feed", unit: "mm/rev", values: cut },
        { name: "Ra", unit: "µm", values: cut.map(law) },
      ],
    },
    { response: "Ra", factors: ["feed"] },
  );
}

describe("meanOverMedian", () => {
  test("is the mean of the exponentials of the residuals (Duan 1983)", () => {
    const fit = fitPowerLaw(table(8, (feed) => 10 * feed * (1 + Math.sin(1e4 * feed) / 10)));
    const plain = fit.rows.reduce((sum, { residual }) => sum + Math.exp(residual), 0) / 8;
    expect(meanOverMedian(fit).factor).toBeCloseTo(plain, 14);
  });

  test("comes to exp(σ²/2) where the scatter is normal", () => {
    const random = seededRandom(83);
    const fit = fitPowerLaw(table(4000, (feed) => 10 * feed ** 1.5 * Math.exp(0.3 * random.normal())));
    // 4 standard errors: the exponential of a normal of 0.3 scatters by 0.32 of its mean.
    expect(Math.abs(meanOverMedian(fit).factor - Math.exp(0.045))).toBeLessThan((4 * 0.32) / Math.sqrt(4000));
    expect(meanOverMedian(fit).text).toMatch(
      /^What is told of Ra is the median: as many runs lie above as below\. The mean of many runs is 1\.0\d+ times it\.$/,
    );
  });

  test("refuses a fit of the response itself, whose predictions are means", () => {
    expect(() => meanOverMedian(fitLinear(table(8, (feed) => feed)))).toThrow(
      "a fit of the response itself; expected one on logarithms. Its predictions are means already.",
    );
  });
});

describe("besideCusp", () => {
  const random = seededRandom(2);
  const noisy = (exponent: number) =>
    fitPowerLaw(table(12, (feed) => 25 * feed ** exponent * Math.exp(0.05 * random.normal())));

  test("tells the exponent with its interval, and where 2 lies", () => {
    const low = besideCusp(noisy(1.5), "feed");
    expect(low.holdsTwo).toBe(false);
    expect(low.text).toMatch(
      /^The exponent of feed is 1\.5\d, 95 % 1\.\d\d to 1\.\d\d; a nose-radius cusp alone would give 2, which lies above that interval\.$/,
    );
    expect(besideCusp(noisy(2), "feed").holdsTwo).toBe(true);
    expect(besideCusp(noisy(3), "feed").text).toContain("which lies below that interval");
  });

  test("is the coefficient and the interval of the fit itself", () => {
    const fit = noisy(1.7);
    const coefficient = fit.coefficients.find(({ term }) => term["feed"] === 1)!;
    const { exponent } = besideCusp(fit, "feed");
    expect(exponent.estimate).toBeCloseTo(coefficient.estimate, 12);
    expect("low" in exponent && exponent.low).toBeCloseTo(coefficient.low!, 10);
    expect("high" in exponent && exponent.high).toBeCloseTo(coefficient.high!, 10);
  });

  test("refuses other fits and other factors", () => {
    expect(() => besideCusp(fitLinear(table(8, (feed) => feed)), "feed")).toThrow(
      "a fit that is no power law; expected a power law.",
    );
    expect(() => besideCusp(noisy(2), "depth")).toThrow('"depth" as the feed; expected feed.');
  });
});
