import type { Reading, Run, Settings } from "../../src/trial/index.ts";
import { at, common, ra } from "./further-trials.ts";
import { scatteredReadings, type Invented, type Scattered } from "./readings.ts";

/** True values at feed 0.2 mm/rev, 1800 rev/min, 0.2 mm deep, and how they move with each as powers. */
export const recipeTruth = {
  Ra: { value: 0.9, feed: 1.3, speed: -0.3, depth: 0.12 },
  power: { value: 0.14, feed: 0.78, speed: 1, depth: 0.95 },
} as const;

function truth(name: keyof typeof recipeTruth): (settings: Settings) => number {
  const { value, feed, speed, depth } = recipeTruth[name];
  return (settings) =>
    value *
    (at(settings, "feed") / 0.2) ** feed *
    (at(settings, "speed") / 1800) ** speed *
    (at(settings, "depth") / 0.2) ** depth;
}

/** Two responses of one invented trial: finish, which wants a small feed, and power, which wants little removal. */
const read: readonly { readonly invented: Invented; readonly scattered: Scattered }[] = [
  {
    invented: { response: "Ra", unit: "µm", decimals: 3, truth: truth("Ra") },
    scattered: { seed: 6101, spots: 2, repeats: 1, runScatter: 0.05, spotScatter: 0.03, repeatScatter: 0 },
  },
  {
    invented: { response: "power", unit: "kW", decimals: 4, truth: truth("power") },
    scattered: { seed: 6102, spots: 1, repeats: 1, runScatter: 0.03, spotScatter: 0, repeatScatter: 0 },
  },
];

const quantity = (name: string, unit: string, [low, high]: readonly [number, number], increment: number) => ({
  name,
  kind: "quantity",
  unit,
  low,
  high,
  increment,
  scale: "log",
});

export const recipeTrial = {
  name: "seal-face-recipe",
  spec: {
    ...common,
    source: common.source.replace("further-trials.ts", "recipe-trial.ts"),
    title: "Pump-cover seal face: the fastest recipe",
    question:
      "How fast may the seal face of the pump cover be cut, with Ra and the spindle's power within their limits?",
    responses: [
      { ...ra, limit: 0.8 },
      { name: "power", unit: "kW", aim: "smaller", limit: 0.12 },
    ],
    factors: [
      quantity("feed", "mm/rev", [0.08, 0.24], 0.01),
      quantity("speed", "rev/min", [1200, 2400], 50),
      quantity("depth", "mm", [0.1, 0.3], 0.02),
    ],
    layout: { kind: "central-composite", axial: "face", centrePoints: 4, order: "random", seed: 1951 },
    held: { coolant: "dry", edge: "fresh", material: "cast iron" },
    budget: { passes: 20, minutes: 150, stock: "5 mm", edges: 4, minutesBetween: 4 },
    today: { feed: 0.1, speed: 1500, depth: 0.2 },
  },
  readings: (runs: readonly Run[]): readonly Reading[] =>
    read.flatMap(({ invented, scattered }) => scatteredReadings(runs, invented, scattered)),
} as const;
