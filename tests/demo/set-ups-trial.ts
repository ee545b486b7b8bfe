import { at, common, ra, type InventedTrial } from "./further-trials.ts";

/** On ln Ra from low to high (used against fresh); each set-up of the edge adds a ratio of its own, which its runs share. */
export const setUpTruth = {
  feed: 0.9,
  speed: -0.12,
  edge: 0.16,
  setUpRatios: [1.07, 0.95, 1.02, 0.92, 1.1, 0.99, 1.04, 0.93],
  runsASetUp: 4,
};
export const setUpsTrial: InventedTrial = {
  name: "seal-face-set-ups",
  spec: {
    ...common,
    source:
      "invented: made by tests/demo/invent.ts from the true values in tests/demo/set-ups-trial.ts; nothing was cut",
    title: "Pump-cover seal face: feed and speed on two edges that take long to change",
    question:
      "How much does a used edge cost in Ra, beside what feed and speed do, where an edge takes a set-up?",
    responses: [{ ...ra, limit: 0.8 }],
    cutter: { ...common.cutter, wiper: "1.2 mm" },
    factors: [
      { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.2, scale: "log", increment: 0.01 },
      {
        name: "speed",
        kind: "quantity",
        unit: "rev/min",
        low: 1400,
        high: 2400,
        scale: "log",
        increment: 10,
      },
      { name: "edge", kind: "category", levels: ["fresh", "used"], change: "hard" },
    ],
    layout: { kind: "factorial", replicates: 4, wholePlots: 8, order: "random", seed: 20261126 },
    held: { depth: "0.1 mm", coolant: "dry", material: "aluminium casting" },
    budget: { passes: 36, minutes: 300, stock: "4 mm", edges: 8, minutesBetween: 4 },
    today: { feed: 0.1, speed: 1700, edge: "used" },
  },
  invented: {
    response: "Ra",
    unit: "µm",
    decimals: 3,
    truth: (settings, run) => {
      const feed = Math.log(at(settings, "feed") / 0.08) / Math.log(0.2 / 0.08) - 0.5;
      const speed = Math.log(at(settings, "speed") / 1400) / Math.log(2400 / 1400) - 0.5;
      const used = settings["edge"] === "used" ? 0.5 : -0.5;
      const setUp = setUpTruth.setUpRatios[Math.ceil(run / setUpTruth.runsASetUp) - 1] ?? NaN;
      return (
        0.5 * setUp * Math.exp(setUpTruth.feed * feed + setUpTruth.speed * speed + setUpTruth.edge * used)
      );
    },
  },
  scattered: { seed: 2611, spots: 2, repeats: 1, runScatter: 0.04, spotScatter: 0.03, repeatScatter: 0.015 },
};
