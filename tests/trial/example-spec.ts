/** A trial.json with every part filled in, as JSON.parse gives it. */
export const exampleSpec = {
  format: "trycut-trial/1",
  title: "Seal face: feed and edge",
  question: "Which feed keeps Ra under 0.8 µm with a used edge?",
  dataKind: "invented",
  source: "made up for tests",
  display: "metric",
  factors: [
    {
      name: "feed",
      kind: "quantity",
      unit: "mm/rev",
      low: 0.08,
      high: 0.24,
      scale: "log",
      levels: [0.08, 0.16, 0.24],
      increment: 0.01,
    },
    { name: "speed", kind: "quantity", unit: "m/min", low: 200, high: 300 },
    { name: "edge", kind: "category", levels: ["fresh", "used"], change: "hard" },
  ],
  responses: [
    { name: "Ra", unit: "µm", aim: "smaller", limit: 0.8 },
    { name: "Rz", unit: "µm", aim: "smaller" },
  ],
  layout: { kind: "factorial", replicates: 2, seed: 20261125 },
  held: { depth: "0.1 mm", fluid: "flood, 6 %" },
  cutter: { diameter: "80 mm", noseRadius: "0.8 mm", teeth: 1, maxSpeed: "8000 rev/min" },
  machine: { maxSpeed: "6000 rev/min", maxFeedSpeed: "5000 mm/min" },
  pass: { length: "180 mm", width: "60 mm", overtravel: "0 mm" },
  budget: { passes: 24, minutes: 120, stock: "3 mm", edges: 2 },
  measurement: { cutoff: "0.8 mm", tipRadius: "2 µm", across: "lay" },
  today: { feed: "0.005 in/rev", edge: "fresh" },
};

/** Freezes an object and all in it, so that a test fails where something is changed. */
export function frozen<T>(value: T): T {
  if (typeof value === "object" && value !== null) {
    Object.values(value).forEach(frozen);
    Object.freeze(value);
  }
  return value;
}
