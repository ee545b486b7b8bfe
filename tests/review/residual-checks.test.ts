import { describe, expect, test } from "vitest";
import {
  effectsWithoutRun,
  fitLinear,
  fitMixed,
  fitPowerLaw,
  leftInResiduals,
  levelsLeftInResiduals,
  mostInfluential,
  observeTable,
} from "../../src/model/index.ts";
import { seededRandom } from "../../src/numerics/index.ts";
import { fitRemarks, remarks } from "../../src/review/index.ts";
import { madeTrial } from "./made-trial.ts";

function observed(columns: Readonly<Record<string, readonly number[]>>, factors: readonly string[]) {
  return observeTable(
    {
      columns: Object.entries(columns).map(([name, values]) => ({
        name,
        unit: name === "y" ? "µm" : "",
        values,
      })),
    },
    { response: "y", factors },
  );
}

const kinds = (found: ReturnType<typeof fitRemarks>) => found.map(({ kind }) => kind);
const random = seededRandom(12);
const x = random.shuffle(Array.from({ length: 24 }, (_, i) => 1 + (i % 4)));
const z = random.shuffle(Array.from({ length: 24 }, (_, i) => 1 + (i % 3)));
const noise = x.map(() => 0.1 * random.normal());

describe("what a column would explain of the residuals", () => {
  test("is the t of that column added to the model", () => {
    const rows = observed({ x, z, y: x.map((at, i) => at + noise[i]) }, ["x", "z"]);
    const [one, both] = [
      fitLinear(rows, { terms: [{ x: 1 }] }),
      fitLinear(rows, { terms: [{ x: 1 }, { z: 1 }] }),
    ];
    const found = leftInResiduals(one, z)!;
    const added = both.coefficients[2];
    expect(found.slope).toBeCloseTo(added.estimate, 12);
    expect(found.t).toBeCloseTo(added.t!, 10);
    expect(found.df).toBe(added.df);
    expect(found.p).toBeCloseTo(added.p!, 10);
  });

  test("is not told of a column that the model holds already, nor without scatter", () => {
    const fit = fitLinear(observed({ x, y: x.map((at, i) => at + noise[i]) }, ["x"]));
    expect(
      leftInResiduals(
        fit,
        x.map((at) => 3 - 2 * at),
      ),
    ).toBeNull();
    expect(leftInResiduals(fitLinear(observed({ x, y: x }, ["x"])), z)).toBeNull();
    expect(
      leftInResiduals(
        fit,
        z.map(() => 1),
      ),
    ).toBeNull();
  });
});

describe("what a column would explain of weighted residuals", () => {
  const weights = x.map((_, i) => 1 + (i % 3));

  test("is the t of that column added to the weighted model, and of levels their F", () => {
    const names = z.map((at) => ["fresh", "used", "honed"][at - 1]);
    const rows = observed({ x, z, y: x.map((at, i) => at + noise[i]) }, ["x", "z"]);
    const one = fitLinear(rows, { terms: [{ x: 1 }], weights });
    const both = fitLinear(rows, { terms: [{ x: 1 }, { z: 1 }], weights });
    const found = leftInResiduals(one, z)!;
    expect(found.slope).toBeCloseTo(both.coefficients[2].estimate, 12);
    expect(found.t).toBeCloseTo(both.coefficients[2].t!, 10);
    const withEdge = observeTable(
      {
        columns: [
          { name: "x", unit: "", values: x },
          { name: "edge", unit: "", values: names },
          { name: "y", unit: "µm", values: rows.rows.map(({ value }) => value) },
        ],
      },
      { response: "y", factors: ["x", "edge"] },
    );
    const row = fitLinear(withEdge, { weights }).analysisLast.find(({ source }) => source === "edge")!;
    const levels = levelsLeftInResiduals(one, names)!;
    expect(levels).toMatchObject({ df: 2, denominatorDf: 20 });
    expect(levels.f).toBeCloseTo(row.f!, 9);
    expect(levels.p).toBeCloseTo(row.p!, 10);
  });

  test("weights that are all alike change nothing, in the draws for the most influential run either", () => {
    const rows = observed({ x, y: x.map((at, i) => at + noise[i]) }, ["x"]);
    const [plain, alike] = [fitLinear(rows), fitLinear(rows, { weights: x.map(() => 2) })];
    expect(leftInResiduals(alike, z)!.p).toBeCloseTo(leftInResiduals(plain, z)!.p, 12);
    expect(mostInfluential(alike)!.run).toBe(mostInfluential(plain)!.run);
    expect(mostInfluential(alike)!.p).toBe(mostInfluential(plain)!.p);
  });
});

describe("what a column would explain of a fit with random sources", () => {
  test("is what the fit with that column in it says, by Kenward and Roger", () => {
    const plot = x.map((_, i) => Math.floor(i / 3));
    const off = plot.map((one) => 0.2 * Math.sin(5 * one));
    const columns = [
      { name: "plot", unit: "", values: plot.map(String) },
      { name: "x", unit: "", values: x },
      { name: "z", unit: "", values: z },
      { name: "y", unit: "µm", values: x.map((at, i) => at + off[i] + noise[i]) },
    ];
    const rows = observeTable({ columns }, { response: "y", factors: ["x", "z"], random: ["plot"] });
    const one = fitMixed(rows, { terms: [{ x: 1 }] });
    const both = fitMixed(rows, { terms: [{ x: 1 }, { z: 1 }], smallSample: "kenward-roger" })
      .coefficients[2];
    const found = leftInResiduals(one, z)!;
    expect(found.slope).toBeCloseTo(both.estimate, 8);
    expect(found.t).toBeCloseTo(both.t!, 6);
    expect(found.df).toBeCloseTo(both.df, 5);
    expect(leftInResiduals(fitMixed(rows, { terms: [{ x: 1 }, { z: 1 }] }), z)).toBeNull();
    // Two levels of z against the third are its F with as many degrees of freedom.
    expect(levelsLeftInResiduals(one, z.map(String))).toMatchObject({ df: 2 });
  });
});

describe("what is left along a factor", () => {
  test("a bend is named with its factor, and which way it goes", () => {
    const fit = fitLinear(
      observed({ x, z, y: x.map((at, i) => (at - 2) ** 2 + z[i] + noise[i]) }, ["x", "z"]),
    );
    const found = fitRemarks(fit).find(({ kind }) => kind === "left-along-factor")!;
    expect(found.title).toBe("y bends along x: the model's straight line misses it.");
    expect(found.evidence).toMatch(
      /^Toward the ends of x \(1 and 4\) the runs lie above the model, in the middle below it \(p below 0.0001/,
    );
  });

  test("a factor that was left out of the model is named", () => {
    const rows = observed({ x, z, y: x.map((at, i) => at + 2 * z[i] + noise[i]) }, ["x", "z"]);
    const found = fitRemarks(fitLinear(rows, { terms: [{ x: 1 }] }));
    expect(found.find(({ kind }) => kind === "left-along-factor")!.title).toBe(
      "y goes with z, which is not in the model.",
    );
  });

  test("a category that was left out is named, with the level that stands apart and by how much", () => {
    const names = z.map((at) => ["fresh", "used", "honed"][at - 1]);
    const rows = observeTable(
      {
        columns: [
          { name: "x", unit: "", values: x },
          { name: "edge", unit: "", values: names },
          {
            name: "y",
            unit: "µm",
            values: x.map((at, i) => at + (names[i] === "used" ? 0.5 : 0) + noise[i]),
          },
        ],
      },
      { response: "y", factors: ["x", "edge"] },
    );
    const found = fitRemarks(fitLinear(rows, { terms: [{ x: 1 }] })).find(
      ({ kind }) => kind === "left-along-factor",
    )!;
    expect(found.title).toBe("y goes with edge, which is not in the model.");
    expect(found.evidence).toMatch(
      /^With edge used, y is 0\.\d+ µm above what it is with the others, all else as the model has it \(F \d+\.\d\d on 2 and 20 degrees of freedom/,
    );
    expect(kinds(fitRemarks(fitLinear(rows)))).not.toContain("left-along-factor");
  });

  test("factors that multiply are seen against the fitted values, and not by a power law", () => {
    const rows = observed({ x, z, y: x.map((at, i) => at * z[i] ** 2 * Math.exp(0.02 * noise[i])) }, [
      "x",
      "z",
    ]);
    expect(kinds(fitRemarks(fitLinear(rows)))).toContain("bends-against-fitted");
    expect(kinds(fitRemarks(fitPowerLaw(rows)))).not.toContain("bends-against-fitted");
  });
});

describe("a run that moves the answer", () => {
  const far = { x: [1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7, 4], y: [1, 1.3, 1.1, 1.2, 1.5, 1.3, 1.6, 1.5, 9] };

  test("is named with the effect that the other runs give, the same as a fit without it", () => {
    const fit = fitLinear(observed(far, ["x"]));
    const without = fitLinear(observed({ x: far.x.slice(0, 8), y: far.y.slice(0, 8) }, ["x"])).coefficients[1]
      .estimate;
    const [effect] = effectsWithoutRun(fit, 9)!;
    expect(effect.without).toBeCloseTo(3 * without, 11);
    expect(effect.all).toBeCloseTo(3 * fit.coefficients[1].estimate, 11);
    const found = fitRemarks(fit).find(({ kind }) => kind === "influential-run")!;
    expect(found.runs).toEqual([9]);
    expect(found.title).toMatch(
      /^Run 9 by itself moves the answer\. Without run 9 the effect of x 1 to x 4 would be 2\.\d µm, not 8\.\d µm\.$/,
    );
  });

  test("is judged by draws that depend on nothing but the settings and the seed", () => {
    const fit = fitLinear(observed(far, ["x"]));
    expect(mostInfluential(fit)).toMatchObject({ run: 9, p: expect.closeTo(0.005, 6) as number });
    const tidy = fitLinear(observed({ x, y: x.map((at, i) => at + noise[i]) }, ["x"]));
    expect(mostInfluential(tidy)!.p).toBeGreaterThan(0.05);
    expect(mostInfluential(tidy)).toEqual(mostInfluential(tidy));
  });

  test("is not told where no run can be judged: exact fits, no scatter", () => {
    expect(
      mostInfluential(fitLinear(observed({ x: [1, 2, 3, 4, 5], y: [1, 2, 3, 4, 5] }, ["x"]))),
    ).toBeNull();
  });
});

describe("a trend along minutes of cut", () => {
  test("that add up faster at low feeds is told by the minutes and not by the run number", () => {
    const feeds = [0.24, 0.08, 0.08, 0.24, 0.08, 0.24, 0.24, 0.08, 0.08, 0.24, 0.24, 0.08, 0.24, 0.08];
    // A slow feed cuts long: minutes as 1 / feed.
    let behind = 0;
    const rows = feeds.map((feed, i) => {
      const minutes = 1 / feed;
      behind += minutes;
      return {
        settings: { feed },
        readings: [1 + 4 * feed + 0.02 * (behind - minutes / 2) + 0.004 * (i % 3)],
      };
    });
    const trial = madeTrial(rows, {
      spec: { pass: { kind: "milling", length: "150 mm", approach: "0 mm", overtravel: "0 mm" } },
    });
    const found = remarks(trial, fitLinear(trial, { terms: [{ feed: 1 }] })).find(
      ({ kind }) => kind === "trend-along-order",
    )!;
    expect(found.title).toBe("Ra rose with the minutes of cut beyond what the settings explain.");
  });
});
