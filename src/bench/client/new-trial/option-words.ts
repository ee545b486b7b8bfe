/** How an option of a layout is asked for. Options that are not here are asked for by their own name. */
export interface OptionWords {
  readonly label: string;
  readonly hint: string;
  readonly choices?: readonly (readonly [string, string])[];
}

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
    choices: [
      ["", "Factors and their pairs"],
      ["main", "Each factor by itself"],
      ["surface", "Factors, pairs and curvature"],
    ],
  },
  starts: { label: "Starts of the search", hint: "40 unless stated; more take longer" },
};

/** The most used ones are asked for at once, the others on demand. */
export const firstOptions = [
  "runs",
  "resolution",
  "terms",
  "axial",
  "replicates",
  "centrePoints",
  "points",
  "anchorEvery",
  "order",
  "seed",
];
