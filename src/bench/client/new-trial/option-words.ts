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
};

/** The most used ones are asked for at once, the others on demand. */
export const firstOptions = ["replicates", "centrePoints", "order", "points", "anchorEvery", "runs", "seed"];
