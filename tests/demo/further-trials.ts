import type { Settings } from "../../src/trial/index.ts";
import type { Invented, Scattered } from "./readings.ts";

/** An invented trial: its plan, the law that its readings obey, and the seed of their scatter (its layout has a seed of its own). */
export interface InventedTrial {
  readonly name: string;
  readonly spec: unknown;
  readonly invented: Invented;
  readonly scattered: Scattered;
}

export const common = {
  format: "trycut-trial/1",
  dataKind: "invented",
  source:
    "invented: made by tests/demo/invent.ts from the true values in tests/demo/further-trials.ts; nothing was cut",
  display: "metric",
  cutter: { diameter: "80 mm", noseRadius: "4 mm", teeth: 1, maxSpeed: "8000 rev/min" },
  machine: { maxSpeed: "6000 rev/min", maxFeedSpeed: "5000 mm/min" },
  pass: { length: "180 mm", width: "60 mm" },
  measurement: { cutoff: "0.8 mm", tipRadius: "2 µm", across: "lay" },
} as const;

export const ra = { name: "Ra", unit: "µm", aim: "smaller" } as const;
export const at = (settings: Settings, name: string): number => Number(settings[name]);
/** ln(setting/middle), in half ranges of the factor. */
const coded = (value: number, [low, high]: readonly [number, number]): number =>
  (2 * value - low - high) / (high - low);

/** Ra has a best place inside: below it the edge rubs, above it the feed marks grow; slow it smears, fast it hums. */
export const surfaceTruth = { raUm: 0.36, bestFeed: 0.105, bestSpeed: 2000 };
const surface: InventedTrial = {
  name: "seal-face-surface",
  spec: {
    ...common,
    title: "Pump-cover seal face: the best feed and speed",
    question: "At which feed and speed is the seal face smoothest, and how surely is that known?",
    responses: [{ ...ra, limit: 0.5 }],
    // A wiper leaves no cusp of the nose radius to compare with.
    cutter: { ...common.cutter, wiper: "1.2 mm" },
    factors: [
      {
        name: "feed",
        kind: "quantity",
        unit: "mm/rev",
        low: 0.06,
        high: 0.24,
        scale: "log",
        increment: 0.005,
      },
      {
        name: "speed",
        kind: "quantity",
        unit: "rev/min",
        low: 1200,
        high: 2700,
        scale: "log",
        increment: 10,
      },
    ],
    layout: { kind: "central-composite", range: "axial", centrePoints: 5, order: "random", seed: 1951 },
    held: { depth: "0.1 mm", coolant: "dry", edge: "fresh", material: "aluminium casting" },
    budget: { passes: 16, minutes: 120, stock: "3 mm", edges: 2, minutesBetween: 4 },
    today: { feed: 0.1, speed: 1700 },
  },
  invented: {
    response: "Ra",
    unit: "µm",
    decimals: 3,
    truth: (settings) => {
      const feed = Math.log(at(settings, "feed") / surfaceTruth.bestFeed);
      const speed = Math.log(at(settings, "speed") / surfaceTruth.bestSpeed);
      return surfaceTruth.raUm * Math.exp(0.75 * feed ** 2 + 2 * speed ** 2 + 0.5 * feed * speed);
    },
  },
  scattered: { seed: 5101, spots: 3, repeats: 1, runScatter: 0.03, spotScatter: 0.03, repeatScatter: 0.015 },
};

const screened = {
  feed: [0.06, 0.18],
  speed: [1400, 2600],
  depth: [0.06, 0.2],
  overhang: [80, 140],
  pressure: [10, 60],
  runout: [2, 14],
} as const;
/** On ln Ra for half of a factor's range; speed, depth and pressure do nothing. */
export const screeningTruth = {
  feed: 0.32,
  runout: 0.21,
  overhang: 0.13,
  feedRunout: -0.1,
  overhangSquared: 0.14,
};
const quantity = (name: keyof typeof screened, unit: string, increment: number) => {
  const [low, high] = screened[name];
  return { name, kind: "quantity", unit, low, high, increment };
};
const screening: InventedTrial = {
  name: "port-face-screening",
  spec: {
    ...common,
    title: "Pump-cover port face: which of six things move Ra",
    question:
      "Which of feed, speed, depth, overhang, coolant pressure and run-out move Ra in the finishing pass?",
    responses: [{ ...ra, limit: 0.8 }],
    cutter: { diameter: "80 mm", noseRadius: "0.8 mm", teeth: 6, maxSpeed: "8000 rev/min" },
    factors: [
      quantity("feed", "mm/rev", 0.01),
      quantity("speed", "rev/min", 10),
      quantity("depth", "mm", 0.01),
      quantity("overhang", "mm", 1),
      quantity("pressure", "bar", 1),
      quantity("runout", "µm", 1),
    ],
    layout: { kind: "definitive-screening", extra: 2, order: "random", seed: 2017 },
    held: { edge: "fresh", material: "aluminium casting" },
    budget: { passes: 20, minutes: 240, stock: "4 mm", edges: 3, minutesBetween: 8 },
    today: { feed: 0.1, speed: 1700, depth: 0.1, overhang: 110, pressure: 20, runout: 8 },
  },
  invented: {
    response: "Ra",
    unit: "µm",
    decimals: 3,
    truth: (settings) => {
      const step = (name: keyof typeof screened) => coded(at(settings, name), screened[name]);
      const { feed, runout, overhang, feedRunout, overhangSquared } = screeningTruth;
      return (
        0.52 *
        Math.exp(
          feed * step("feed") +
            runout * step("runout") +
            overhang * step("overhang") +
            feedRunout * step("feed") * step("runout") +
            overhangSquared * step("overhang") ** 2,
        )
      );
    },
  },
  scattered: { seed: 1702, spots: 3, repeats: 1, runScatter: 0.04, spotScatter: 0.04, repeatScatter: 0.02 },
};

/** On ln Ra from low to high; what isn't named does nothing. */
export const fractionTruth = { feed: 0.62, edge: 0.24, feedCoolant: 0.17 };
const fraction: InventedTrial = {
  name: "port-face-fraction",
  spec: {
    ...common,
    title: "Pump-cover port face: five things in sixteen passes",
    question: "Which of feed, speed, edge, coolant and clamping move Ra, with each pass cut once?",
    responses: [{ ...ra, limit: 0.8 }],
    cutter: { ...common.cutter, wiper: "1.2 mm" },
    factors: [
      {
        name: "feed",
        kind: "quantity",
        unit: "mm/rev",
        low: 0.08,
        high: 0.16,
        scale: "log",
        increment: 0.01,
      },
      {
        name: "speed",
        kind: "quantity",
        unit: "rev/min",
        low: 1400,
        high: 2400,
        scale: "log",
        increment: 10,
      },
      { name: "edge", kind: "category", levels: ["fresh", "used"] },
      { name: "coolant", kind: "category", levels: ["dry", "mist"] },
      { name: "clamping", kind: "category", levels: ["soft", "hard"] },
    ],
    layout: { kind: "fraction", runs: 16, order: "random", seed: 1989 },
    held: { depth: "0.1 mm", material: "aluminium casting" },
    budget: { passes: 18, minutes: 150, stock: "3 mm", edges: 2, minutesBetween: 4 },
    today: { feed: 0.1, speed: 1700, edge: "used", coolant: "dry", clamping: "soft" },
  },
  invented: {
    response: "Ra",
    unit: "µm",
    decimals: 3,
    truth: (settings) => {
      const feed = Math.log(at(settings, "feed") / 0.08) / Math.log(2) - 0.5;
      const mist = settings["coolant"] === "mist" ? 0.5 : -0.5;
      const used = settings["edge"] === "used" ? 0.5 : -0.5;
      const { feed: feedEffect, edge, feedCoolant } = fractionTruth;
      return 0.48 * Math.exp(feedEffect * feed + edge * used + 2 * feedCoolant * feed * mist);
    },
  },
  scattered: { seed: 8919, spots: 3, repeats: 1, runScatter: 0.05, spotScatter: 0.04, repeatScatter: 0.02 },
};

/** Ra² = floor² + (marks (feed/0.14)^exponent)². */
export const floorTruth = { floorUm: 0.24, marksUm: 0.55, exponent: 1.9 };
const flooredRa: Invented = {
  response: "Ra",
  unit: "µm",
  decimals: 3,
  truth: (settings) =>
    Math.hypot(floorTruth.floorUm, floorTruth.marksUm * (at(settings, "feed") / 0.14) ** floorTruth.exponent),
};
const floorSweep = (title: string, levels: readonly number[], seed: number) => ({
  ...common,
  title,
  question: "How smooth can the seal face become by feeding slower, and what is left that no feed removes?",
  responses: [{ ...ra, limit: 0.8 }],
  factors: [
    {
      name: "feed",
      kind: "quantity",
      unit: "mm/rev",
      low: levels[0],
      high: levels.at(-1),
      scale: "log",
      increment: 0.01,
    },
  ],
  layout: { kind: "sweep", levels, replicates: 2, order: "random", seed },
  held: {
    depth: "0.1 mm",
    speed: "1700 rev/min",
    edge: "fresh",
    coolant: "dry",
    material: "aluminium casting",
  },
  budget: { passes: 18, minutes: 150, stock: "3 mm", edges: 2, minutesBetween: 4 },
  today: { feed: 0.1 },
});
const smallFeeds: InventedTrial = {
  name: "seal-face-small-feeds",
  spec: floorSweep("Pump-cover seal face: down to small feeds", [0.03, 0.05, 0.07, 0.1, 0.14, 0.19, 0.26], 3),
  invented: flooredRa,
  scattered: { seed: 1961, spots: 3, repeats: 1, runScatter: 0.05, spotScatter: 0.04, repeatScatter: 0.02 },
};
const usualFeeds: InventedTrial = {
  name: "seal-face-usual-feeds",
  spec: floorSweep("Pump-cover seal face: the usual feeds only", [0.12, 0.15, 0.18, 0.21, 0.26], 5),
  invented: flooredRa,
  scattered: { seed: 1962, spots: 3, repeats: 1, runScatter: 0.05, spotScatter: 0.04, repeatScatter: 0.02 },
};

/** Minutes of cut until an edge is worn, by speed to the −exponent. */
export const lifeTruth = { speedFor60: 175, exponent: 3.8 };
const edgeLife: InventedTrial = {
  name: "port-face-edge-life",
  spec: {
    ...common,
    title: "Pump-cover port face: minutes of cut from an edge",
    question: "At which cutting speed does an edge last sixty minutes of cut?",
    responses: [{ name: "life", unit: "min", aim: "larger", limit: 60 }],
    factors: [
      { name: "speed", kind: "quantity", unit: "m/min", low: 140, high: 280, scale: "log", increment: 5 },
    ],
    layout: { kind: "sweep", levels: [140, 165, 200, 235, 280], replicates: 2, order: "random", seed: 1907 },
    held: { feed: "0.15 mm/rev", depth: "0.5 mm", coolant: "dry", material: "steel plate" },
    budget: { passes: 400, minutes: 900, stock: "200 mm", edges: 12, minutesBetween: 4 },
    today: { speed: 180 },
  },
  invented: {
    response: "life",
    unit: "min",
    decimals: 1,
    truth: (settings) => 60 * (at(settings, "speed") / lifeTruth.speedFor60) ** -lifeTruth.exponent,
  },
  scattered: { seed: 1906, spots: 1, repeats: 1, runScatter: 0.12, spotScatter: 0, repeatScatter: 0 },
};

export const furtherTrials: readonly InventedTrial[] = [
  surface,
  screening,
  fraction,
  smallFeeds,
  usualFeeds,
  edgeLife,
];
