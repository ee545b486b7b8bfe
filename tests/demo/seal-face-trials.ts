const invented =
  "invented: made by tests/demo/invent.ts from the true values in tests/demo/truth.ts; nothing was cut";

export const common = {
  format: "trycut-trial/1",
  dataKind: "invented",
  source: invented,
  display: "metric",
  responses: [{ name: "Ra", unit: "µm", aim: "smaller", limit: 0.8 }],
  cutter: { diameter: "80 mm", noseRadius: "4 mm", teeth: 1, maxSpeed: "8000 rev/min" },
  machine: { maxSpeed: "6000 rev/min", maxFeedSpeed: "5000 mm/min" },
  pass: { length: "180 mm", width: "60 mm" },
  measurement: { cutoff: "0.8 mm", tipRadius: "2 µm", across: "lay" },
} as const;

const feed = {
  name: "feed",
  kind: "quantity",
  unit: "mm/rev",
  low: 0.08,
  high: 0.24,
  scale: "log",
  increment: 0.01,
} as const;
const edge = { name: "edge", kind: "category", levels: ["fresh", "used"] } as const;

/** A sweep as it is often cut: feed in rising order, each once, and a last pass in which everything was changed at once. */
export const sweepSpec = {
  ...common,
  title: "Pump-cover seal face: feed sweep",
  question: "How fast may the seal face be fed and still keep Ra under 0.8 µm?",
  factors: [
    feed,
    { name: "speed", kind: "quantity", unit: "rev/min", low: 1700, high: 2400, scale: "log", increment: 10 },
    edge,
    { name: "coolant", kind: "category", levels: ["dry", "mist"] },
  ],
  layout: {
    kind: "given",
    runs: [
      ...[0.08, 0.1, 0.12, 0.14, 0.17, 0.2, 0.24].map((setting) => ({
        feed: setting,
        speed: 1700,
        edge: "used",
        coolant: "dry",
      })),
      { feed: 0.12, speed: 2400, edge: "fresh", coolant: "mist" },
    ],
  },
  held: { depth: "0.1 mm", material: "aluminium casting" },
  budget: { passes: 10, minutes: 60, stock: "1.5 mm", edges: 2, minutesBetween: 4 },
  today: { feed: 0.1, speed: 1700, edge: "used", coolant: "dry" },
} as const;

/** The same face as a trial that can be trusted: replicated, in random order, three spots read twice after each run. */
export const factorialSpec = {
  ...common,
  title: "Pump-cover seal face: feed, speed and edge",
  question:
    "Which of feed, speed and edge moves Ra on the seal face, and how fast may it be fed under 0.8 µm?",
  factors: [
    feed,
    { name: "speed", kind: "quantity", unit: "rev/min", low: 1200, high: 2400, scale: "log", increment: 10 },
    edge,
  ],
  layout: { kind: "factorial", replicates: 2, centrePoints: 2, order: "random", seed: 20261125 },
  held: { depth: "0.1 mm", coolant: "dry", material: "aluminium casting" },
  budget: { passes: 24, minutes: 120, stock: "3 mm", edges: 2, minutesBetween: 4 },
  today: { feed: 0.1, speed: 1700, edge: "used" },
} as const;

/** Planned and not yet cut, for trying the run sheet. */
export const plannedSpec = {
  ...common,
  title: "Pump-cover port face: feed and coolant",
  question: "Does mist let the port face be fed faster at the same Ra?",
  factors: [
    { ...feed, levels: [0.08, 0.14, 0.24] },
    { name: "coolant", kind: "category", levels: ["dry", "mist"] },
  ],
  layout: { kind: "factorial", replicates: 2, order: "drift-proof", seed: 7 },
  held: { depth: "0.1 mm", speed: "1700 rev/min", edge: "fresh", material: "aluminium casting" },
  budget: { passes: 14, minutes: 90, stock: "2 mm", edges: 2, minutesBetween: 4 },
  today: { feed: 0.1, coolant: "dry" },
} as const;
