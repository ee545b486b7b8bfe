import { fitLinear, inertLimits, observeTable } from "../../src/model/index.ts";
import type { CoverageCase } from "./coverage-case.ts";

/** A 2³ factorial, cut once, with no effect at all; its seven effects. */
export const corners = Array.from({ length: 8 }, (_, run) => [run & 1, (run >> 1) & 1, (run >> 2) & 1]);
const terms = Array.from({ length: 7 }, (_, k) =>
  Object.fromEntries(
    ["A", "B", "C"].filter((_name, place) => ((k + 1) >> place) & 1).map((name) => [name, 1]),
  ),
);

export function judgedOf(values: readonly number[]) {
  const { unreplicated } = fitLinear(
    observeTable(
      {
        columns: [
          ...["A", "B", "C"].map((name, place) => ({
            name,
            unit: "",
            values: corners.map((corner) => corner[place]),
          })),
          { name: "y", unit: "", values },
        ],
      },
      { response: "y", factors: ["A", "B", "C"] },
    ),
    { terms },
  );
  return unreplicated!;
}

const limits = inertLimits(7);

/** How often effects that are nothing pass the limits. The limits are drawn with one seed, the trials with others. */
export const screeningCases: readonly CoverageCase[] = [
  {
    name: "false alarm on one inert effect of 7, limit drawn (Lenth)",
    nominal: 0.05,
    seed: 1200,
    simulate: (random) => {
      const { effects, pseudoStandardError } = judgedOf(corners.map(() => random.normal()));
      return Math.abs(effects[3].effect) > limits.single * pseudoStandardError;
    },
  },
  {
    name: "false alarm on any of 7 inert effects, limit drawn (Lenth)",
    nominal: 0.05,
    seed: 1201,
    simulate: (random) => {
      const { effects, pseudoStandardError } = judgedOf(corners.map(() => random.normal()));
      return effects.some(({ effect }) => Math.abs(effect) > limits.all * pseudoStandardError);
    },
  },
  {
    name: "false alarm on one inert effect of 7, Student's t (Lenth 1989)",
    nominal: 0.05,
    promise: "at most",
    seed: 1202,
    simulate: (random) => {
      const { effects, margin } = judgedOf(corners.map(() => random.normal()));
      return Math.abs(effects[3].effect) > margin;
    },
  },
];
