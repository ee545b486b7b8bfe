import { expect, test } from "vitest";
import { fitLinear, fitPowerLaw, observeTable, type Term } from "../../../src/model/index.ts";
import { fitOf, workedExample } from "../../reference/worked-example.ts";

const example = workedExample("yield-central-composite");

test("gradient, bend and covariance are those of the coded fit", () => {
  const coded = fitOf(example, example.analyses[0], { coded: true });
  const { constant, gradient, bend, covariance } = fitOf(example, example.analyses[0], {
    coded: false,
  }).secondDegree!;
  const told = (term: Term) => {
    const place = coded.coefficients.findIndex(
      ({ term: own }) => JSON.stringify(own) === JSON.stringify(term),
    );
    return { place, estimate: coded.coefficients[place].estimate };
  };
  const terms: readonly Term[] = [
    {},
    { time: 1 },
    { temperature: 1 },
    { time: 2 },
    { time: 1, temperature: 1 },
    { temperature: 2 },
  ];
  const estimates = [constant, ...gradient, bend[0][0], 2 * bend[0][1], bend[1][1]];
  terms.forEach((term, k) => expect(estimates[k]).toBeCloseTo(told(term).estimate, 10));
  // Half the interaction stands in the bend, so its covariances are halved, and its variance quartered.
  const half = [1, 1, 1, 1, 0.5, 1];
  terms.forEach((a, i) =>
    terms.forEach((b, j) =>
      expect(covariance![i][j]).toBeCloseTo(
        half[i] * half[j] * coded.covariance![told(a).place][told(b).place],
        12,
      ),
    ),
  );
});

test("settings and coded places are each other's inverse, on logarithms too", () => {
  const table = observeTable(
    {
      columns: [
        { name: "feed", unit: "mm/rev", values: [0.08, 0.24, 0.08, 0.24, 0.139] },
        { name: "speed", unit: "m/min", values: [100, 100, 400, 400, 200] },
        { name: "Ra", unit: "µm", values: [0.5, 2.2, 0.4, 1.9, 0.9] },
      ],
    },
    { response: "Ra", factors: ["feed", "speed"], log: true },
  );
  const { secondDegree } = fitPowerLaw(table);
  expect(secondDegree!.settings([0, 0])["feed"]).toBeCloseTo(Math.sqrt(0.08 * 0.24), 12);
  const back = secondDegree!.coded(secondDegree!.settings([0.3, -0.7]));
  expect(back[0]).toBeCloseTo(0.3, 12);
  expect(back[1]).toBeCloseTo(-0.7, 12);
});

test("a surface on the log scale is that of the logarithm, in logarithms of the factors where the model takes them", () => {
  const points = [-1, 0, 1].flatMap((x) => [-1, 0, 1].map((z) => ({ x, z })));
  const at = points.map(({ x, z }) => ({ feed: 0.16 * 1.5 ** x, speed: 200 * 2 ** z }));
  const ratio = [1.01, 0.99, 1.0, 1.02, 0.98, 1.01, 0.99, 1.0, 1.0];
  const table = observeTable(
    {
      columns: [
        { name: "feed", unit: "mm/rev", values: at.map(({ feed }) => feed) },
        { name: "speed", unit: "m/min", values: at.map(({ speed }) => speed) },
        {
          name: "Ra",
          unit: "µm",
          values: points.map(
            ({ x, z }, i) => ratio[i] * Math.exp(0.3 * (x - 0.4) ** 2 + 0.2 * (z + 0.5) ** 2),
          ),
        },
      ],
    },
    { response: "Ra", factors: ["feed", "speed"], log: true },
  );
  const squares: readonly Term[] = [
    { feed: 1 },
    { speed: 1 },
    { feed: 2 },
    { speed: 2 },
    { feed: 1, speed: 1 },
  ];
  const { surface } = fitPowerLaw(table, { terms: squares });
  expect(surface!.shape).toBe("minimum");
  expect(surface!.stationary!["feed"] / (0.16 * 1.5 ** 0.4)).toBeCloseTo(1, 1);
  expect(surface!.stationary!["speed"] / (200 * 2 ** -0.5)).toBeCloseTo(1, 1);
  const plain = fitLinear(table, { terms: squares, log: true }).surface;
  expect(plain!.shape).toBe("minimum");
});

test("none where a term is of a higher degree or the runs can't tell terms apart", () => {
  const x = [1, 2, 3, 4, 5, 6];
  const table = observeTable(
    {
      columns: [
        { name: "x", unit: "", values: x },
        { name: "twice", unit: "", values: x.map((value) => 2 * value) },
        { name: "y", unit: "", values: [1, 3, 2, 5, 4, 7] },
      ],
    },
    { response: "y", factors: ["x", "twice"] },
  );
  expect(fitLinear(table, { terms: [{ x: 1 }, { x: 3 }] }).secondDegree).toBeNull();
  expect(fitLinear(table).secondDegree).toBeNull();
});
