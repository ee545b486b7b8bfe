import { expect, test } from "vitest";
import { fitLinear } from "../../src/model/index.ts";
import { seededRandom } from "../../src/numerics/index.ts";
import { remarks } from "../../src/review/index.ts";
import { madeTrial } from "./made-trial.ts";

/** Four settings of feed and edge, six runs each in two blocks; `sd` is the scatter of the fresh and of the used edge. */
function trialOf(seed: number, [fresh, used]: readonly [number, number]) {
  const random = seededRandom(seed);
  return madeTrial(
    Array.from({ length: 24 }, (_, at) => {
      const edge = at % 2 === 0 ? "fresh" : "used";
      const feed = Math.floor(at / 2) % 2 === 0 ? 0.1 : 0.2;
      const value = 1 + 2 * feed + (edge === "fresh" ? fresh : used) * random.normal();
      return { settings: { feed, speed: 1500, edge }, readings: [value], block: at < 12 ? 1 : 2 };
    }),
  );
}

const found = (trial: ReturnType<typeof trialOf>) =>
  remarks(trial, fitLinear(trial, { response: "Ra" })).filter(({ kind }) => kind === "levels-scatter-unlike");

test("an edge that scatters six times as much is named, beside another factor and blocks", () => {
  const [remark] = found(trialOf(2, [0.02, 0.12]));
  expect(remark?.weight).toBe("caution");
  expect(remark?.title).toBe(
    "Ra scatters more with edge used than with fresh, and one scatter was taken for all.",
  );
  expect(remark?.evidence).toMatch(/scatters \d(?:\.\d)? times as much with used as with fresh \(p 0\.00/);
});

test("of edges that scatter alike it speaks in one trial of twenty", () => {
  const fired = Array.from({ length: 200 }, (_, seed) => found(trialOf(seed + 1, [0.05, 0.05])).length);
  // 10 of 200 are expected at most, with a standard deviation of 3.1; three of them above.
  expect(fired.filter((count) => count > 0).length).toBeLessThanOrEqual(19);
});
