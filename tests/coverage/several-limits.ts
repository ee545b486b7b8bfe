import { boundMultiple, fitLinear, keptRegion, observeTable, type Fit } from "../../src/model/index.ts";
import { decide, decisionOf } from "../../src/model/recipe/decision.ts";
import { settingsAt } from "../../src/model/recipe/pass-score.ts";
import type { SeededRandom } from "../../src/numerics/index.ts";
import { normalCdf } from "../../src/numerics/index.ts";
import { parseTrialSpec, type Trial } from "../../src/trial/index.ts";
import type { CoverageCase } from "./coverage-case.ts";

const names = ["Ra", "Rz"] as const;
/** True means over feed and speed, and the scatter of one run. Ra rises along both as feed times speed does, so that a search has many settings to choose from. */
const truth = {
  Ra: (feed: number, speed: number) => 0.1 + 2 * feed + 0.00032 * speed,
  Rz: (feed: number, speed: number) => 0.4 + 18 * feed + 0.0002 * (speed - 1000),
} as const;
const scatter = { Ra: 0.03, Rz: 0.14 } as const;
const limits = { Ra: 0.8, Rz: 3.4 } as const;

const trial: Trial = {
  name: "drawn",
  spec: parseTrialSpec(
    {
      format: "trycut-trial/1",
      title: "Drawn",
      question: "How fast within both limits?",
      dataKind: "invented",
      source: "",
      display: "metric",
      factors: [
        { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24, increment: 0.001 },
        { name: "speed", kind: "quantity", unit: "rev/min", low: 600, high: 1400, increment: 10 },
      ],
      responses: names.map((name) => ({ name, unit: "µm", aim: "smaller", limit: limits[name] })),
      layout: { kind: "given" },
      held: {},
    },
    "trial.json",
  ),
  runs: [],
  asCut: [],
  readings: [],
  checksum: "",
};

function drawn(random: SeededRandom, replicates: number): readonly Fit[] {
  const places = [0.08, 0.24].flatMap((feed) => [600, 1400].map((speed) => ({ feed, speed })));
  const cut = Array.from({ length: replicates }, () => places).flat();
  return names.map((name) =>
    fitLinear(
      observeTable(
        {
          columns: [
            { name: "feed", unit: "mm/rev", values: cut.map(({ feed }) => feed) },
            { name: "speed", unit: "rev/min", values: cut.map(({ speed }) => speed) },
            {
              name,
              unit: "µm",
              values: cut.map(
                ({ feed, speed }) => truth[name](feed, speed) + scatter[name] * random.normal(),
              ),
            },
          ],
        },
        { response: name, factors: ["feed", "speed"] },
      ),
      { model: "main" },
    ),
  );
}

/** One limit by Student's t or the tolerance factor; leverage and degrees of freedom are those of the layout, whatever is drawn. */
function boundAt(
  fit: Fit | undefined,
  multiples: Map<number, number>,
  promise: Parameters<typeof boundMultiple>[0],
) {
  const evaluator = fit?.evaluator?.();
  if (evaluator === undefined || evaluator.sd === null) return null;
  const point = evaluator.centre();
  evaluator.set(point, "feed", setting.feed);
  evaluator.set(point, "speed", setting.speed);
  const out = new Float64Array(2);
  evaluator.evaluate(point, out);
  const [estimate, leverage] = out;
  const k = multiples.get(evaluator.df) ?? boundMultiple(promise, leverage, evaluator.df);
  multiples.set(evaluator.df, k);
  return estimate + evaluator.sd * k;
}

const setting = { feed: 0.2, speed: 700 } as const;
const share = { for: "share", share: 0.95, parts: 1, assurance: 0.95 } as const;
const objective = { product: ["feed", "speed"] } as const;
const sizes = [2, 4, 8] as const;

/** Assurance of bounds for a share of parts, of several bounds together, of the kept set, and of recipes that a search chose. */
export const severalLimitCases: readonly CoverageCase[] = sizes.flatMap(
  (replicates, index): CoverageCase[] => {
    const runs = `${4 * replicates} runs`;
    const sharing = new Map<number, number>();
    const together = new Map<number, number>();
    return [
      {
        name: `bound that 95 % of parts keep at a stated setting, ${runs}`,
        nominal: 0.95,
        seed: 5100 + index,
        simulate: (random) => {
          const bound = boundAt(drawn(random, replicates)[0], sharing, share);
          if (bound === null) return null;
          return normalCdf((bound - truth.Ra(setting.feed, setting.speed)) / scatter.Ra) >= 0.95;
        },
      },
      {
        name: `bounds of the mean of two responses together at a stated setting, ${runs}`,
        nominal: 0.95,
        promise: "at least",
        seed: 5110 + index,
        simulate: (random) => {
          const fits = drawn(random, replicates);
          const promise = { ...share, for: "mean", assurance: 0.975 } as const;
          const bounds = fits.map((fit) => boundAt(fit, together, promise));
          return names.every((name, k) => (bounds[k] ?? NaN) >= truth[name](setting.feed, setting.speed));
        },
      },
      {
        name: `the kept set of two limits leaves out a setting whose mean Ra is on the limit, ${runs}`,
        nominal: 0.95,
        promise: "at least",
        seed: 5120 + index,
        simulate: (random) => {
          const region = keptRegion(trial, drawn(random, replicates), {
            at: { speed: 1000 },
            limits: { Ra: { for: "mean", limit: truth.Ra(0.15, 1000) }, Rz: { for: "mean" } },
          });
          return !region.contains({ feed: 0.15, speed: 1000 });
        },
      },
      {
        name: `recipe for the mean that a search chose along a border, ${runs}`,
        nominal: 0.95,
        seed: 5130 + index,
        simulate: (random) => {
          const asked = {
            limits: { Ra: { for: "mean" }, Rz: { limit: 100, for: "mean" } },
            objective,
          } as const;
          const decision = decisionOf(trial, drawn(random, replicates), asked);
          const end = decide(decision);
          if (!end.kept) return null;
          const chosen = settingsAt(decision.space, end.which, end.place);
          return truth.Ra(Number(chosen["feed"]), Number(chosen["speed"])) <= limits.Ra;
        },
      },
    ];
  },
);
