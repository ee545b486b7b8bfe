/** How an option of a layout is asked for. Options that are not here are asked for by their own name. */
export interface OptionWords {
  readonly label: string;
  readonly hint: string;
  readonly choices?: readonly (readonly [string, string])[];
  /** Effects: one of the choices, or a list that is typed. */
  readonly effects?: "listed";
  /** Several lines, one entry a line. */
  readonly lines?: number;
}

/** Effects that can be asked for by name; others are listed. */
const sets = [
  ["main", "Each factor by itself"],
  ["interactions", "Factors and their pairs"],
  ["surface", "Factors, pairs and curvature"],
] as const;

export const optionWords: Readonly<Record<string, OptionWords>> = {
  replicates: {
    label: "Replicates",
    hint: "How often each setting is cut afresh. Two or more tell the scatter.",
  },
  centrePoints: { label: "Centre points", hint: "Passes in the middle, to see curvature" },
  blocks: { label: "Blocks", hint: "Groups cut under like conditions: one edge, one shift" },
  order: {
    label: "Cutting order",
    hint: "Wear and warm-up must not line up with a factor",
    choices: [
      ["", "Random, by the seed"],
      ["drift-proof", "Drift-proof"],
      ["fewest-changes", "With the fewest setting changes"],
      ["as-listed", "As listed"],
    ],
  },
  seed: { label: "Seed", hint: "The same seed gives the same order" },
  points: {
    label: "Number of settings",
    hint: "Where the factor has no settings of its own; 5 unless stated",
  },
  spacing: {
    label: "Spacing",
    hint: "Empty: as the factor is spread",
    choices: [
      ["", "As the factor is spread"],
      ["even", "Even"],
      ["ratio", "In ratio"],
    ],
  },
  factor: { label: "Factor that moves", hint: "Empty: the first quantity" },
  anchorEvery: { label: "Anchor after every", hint: "Passes between two at one fixed setting; 0 for none" },
  anchor: { label: "Anchor setting", hint: "Empty: the middle setting" },
  levels: { label: "Levels", hint: "How many for each quantity without settings of its own" },
  runs: { label: "Runs", hint: "Empty: the fewest that will do" },
  resolution: {
    label: "Keep apart",
    hint: "What must not be mixed up",
    choices: [
      ["", "As the number of runs allows"],
      ["3", "Single factors from one another"],
      ["4", "and from pairs of factors"],
      ["5", "and pairs from one another"],
    ],
  },
  generators: { label: "Generators", hint: "Such as: coolant = feed × speed. Empty: the best known" },
  foldOver: { label: "Fold over", hint: "none, all, or a factor: cuts again with signs reversed" },
  part: { label: "Which fraction", hint: "1 unless stated" },
  extra: { label: "Extra runs", hint: "For more freedom to judge scatter" },
  axial: {
    label: "Axial runs",
    hint: "How far out they stand",
    choices: [
      ["", "Rotatable"],
      ["face", "On the faces"],
      ["block-orthogonal", "Clear of blocks"],
      ["spherical", "As far as the corners"],
    ],
  },
  cube: { label: "Corners", hint: "full, or a number of runs" },
  range: {
    label: "Low and high are",
    hint: "Nothing is cut beyond the axial runs",
    choices: [
      ["", "The corners"],
      ["axial", "The axial runs"],
    ],
  },
  criterion: {
    label: "Best for",
    hint: "What the search narrows",
    choices: [
      ["", "All effects together"],
      ["I", "Predictions over the range"],
      ["A", "Effects on average"],
    ],
  },
  terms: {
    label: "To be told",
    hint: "The model that the runs must carry",
    choices: [["", "Factors and their pairs"], sets[0], sets[2]],
    effects: "listed",
  },
  lesserTerms: {
    label: "Good to know, if runs are left",
    hint: "Effects that matter less; they are told apart only as far as runs allow",
    choices: [["", "Nothing further"], sets[1], sets[2]],
    effects: "listed",
  },
  lesserSize: {
    label: "Size of the lesser effects",
    hint: "In multiples of the scatter; 1 unless stated. The smaller, the less they weigh",
  },
  constraints: {
    label: "Not to be cut",
    hint: "One rule a line: never feed = 0.24, edge = used · removal rate at most 40 cm³/min · 1000 × feed + 0.1 × speed at most 300 · tool life at least 15 min, exponent 0.25, constant 300 m/min",
    lines: 3,
  },
  keep: {
    label: "Runs cut already",
    hint: "One run a line, such as: feed = 0.12, speed = 1200, edge = fresh",
    lines: 3,
  },
  wholePlots: {
    label: "Set-ups",
    hint: "How often what is hard to change is set; empty: as often as its effects need",
  },
  varianceRatio: {
    label: "Scatter between set-ups",
    hint: "Its variance beside that from pass to pass; 1 unless stated",
  },
  interactions: {
    label: "Pairs to keep clear",
    hint: "Such as: feed × speed, feed × edge",
  },
  hold: {
    label: "The other factors stand at",
    hint: "Such as: speed = 1200, edge = fresh. Empty: in the middle",
  },
  aliasOrder: { label: "Tell mixed-up effects", hint: "Of up to so many factors; 2 unless stated" },
  protect: {
    label: "Keep wear out of",
    hint: "Effects that drift must not pass for",
    choices: [["", "Each factor by itself"], sets[1], sets[2]],
    effects: "listed",
  },
  "borders.edge": { label: "One edge lasts", hint: "Such as 8 passes, or 12 min in cut" },
  "borders.shift": { label: "One shift lasts", hint: "Such as 240 min by the clock" },
  "borders.part": { label: "One part lasts", hint: "Such as 6 passes" },
  "warmUp.passes": { label: "Warm-up passes", hint: "Cut first, so that the machine is warm" },
  "warmUp.analysed": {
    label: "Warm-up is",
    hint: "Whether its readings count",
    choices: [
      ["", "Cut before run 1, not read"],
      ["yes", "Read, as the first block"],
    ],
  },
  "changes.weights": {
    label: "What a change costs",
    hint: "Such as: edge = 10, coolant = 3; others count 1",
  },
  "changes.allowedCorrelation": {
    label: "Wear may move with an effect by",
    hint: "From 0 to 1; 0.1 unless stated",
  },
  largeChanges: {
    label: "Large changes",
    hint: "One rule a line, such as: speed at most 3 changes by 200 rev/min",
    lines: 2,
  },
  starts: {
    label: "Starts of the search",
    hint: "40 unless stated, fewer for a large model; more take longer",
  },
};

/** The most used ones are asked for at once, the others on demand. */
export const firstOptions = [
  "runs",
  "resolution",
  "terms",
  "lesserTerms",
  "constraints",
  "wholePlots",
  "axial",
  "interactions",
  "replicates",
  "centrePoints",
  "points",
  "anchorEvery",
  "order",
  "seed",
];

/** What can be said about the order of the runs, asked for by itself. */
export const orderOptions = [
  "protect",
  "borders.edge",
  "borders.shift",
  "borders.part",
  "warmUp.passes",
  "warmUp.analysed",
  "largeChanges",
  "changes.weights",
  "changes.allowedCorrelation",
];

/** Options that say something only with another one: with the order that they belong to, or with factors that are hard to change. */
export const onlyWith: Readonly<Record<string, "fewest-changes" | "hard">> = {
  "changes.weights": "fewest-changes",
  "changes.allowedCorrelation": "fewest-changes",
  wholePlots: "hard",
  varianceRatio: "hard",
};

/** Options of several parts, each with a field of its own. */
const parts: Readonly<Record<string, readonly string[]>> = {
  borders: ["borders.edge", "borders.shift", "borders.part"],
  warmUp: ["warmUp.passes", "warmUp.analysed"],
  changes: ["changes.weights", "changes.allowedCorrelation"],
};

/** The fields of a kind's options. */
export function fieldsOf(options: readonly string[]): readonly string[] {
  return options.flatMap((name) => parts[name] ?? [name]);
}
