import { listed } from "../../units/index.ts";
import type { CommonOptions } from "../common-options.ts";
import type { StandardRun } from "../layout.ts";
import { borderKinds, type Border, type BorderRules } from "./borders.ts";
import { correlationText } from "./drift-sentences.ts";
import { ROUNDING } from "./order-measure.ts";

const words = {
  edge: { one: "edge", change: "The edge is changed" },
  shift: { one: "shift", change: "A shift begins" },
  part: { one: "part", change: "The part is changed" },
} as const;

/** What each border is for, where it falls, and what it does to the terms: one sentence each. */
export function borderSentences(said: {
  readonly runs: readonly StandardRun[];
  readonly durations: ArrayLike<number>;
  readonly borders: BorderRules;
  readonly changes: readonly Border[];
  readonly options: Pick<CommonOptions, "protect" | "warmUp">;
  readonly contrasts: readonly { readonly label: string }[];
  readonly between: Float64Array;
}): readonly string[] {
  const { runs, borders, changes, options, contrasts, between } = said;
  const sentences: string[] = [];
  if (borders.warmUpPasses > 0) {
    sentences.push(
      `The first ${borders.warmUpPasses === 1 ? "run warms" : `${borders.warmUpPasses} runs warm`} the machine up and ${borders.warmUpPasses === 1 ? "is a block by itself" : "are a block by themselves"}.`,
    );
  }
  for (const kind of borderKinds) {
    const capacity = borders.capacities.find((one) => one.kind === kind);
    if (!capacity) continue;
    const places = changes.filter(({ kinds }) => kinds.includes(kind)).map(({ place }) => place + 1);
    sentences.push(
      places.length === 0
        ? `One ${words[kind].one} lasts all ${runs.length} runs (${lastsText(capacity)}).`
        : `${words[kind].change} before run${places.length > 1 ? "s" : ""} ${listed(places.map(String))}: one lasts ${lastsText(capacity)}.`,
    );
  }
  const blocks = new Set(runs.map(({ block }) => block)).size;
  if (blocks > 1) sentences.push(balanceSentence(blocks, contrasts, between, options));
  return [...sentences, ...splitPlotSentences(runs)];
}

function lastsText({ passes, minutes, kind }: BorderRules["capacities"][number]): string {
  const clock = kind === "shift" ? "minutes by the clock" : "minutes of cut";
  const parts = [
    ...(passes === Infinity ? [] : [`${passes} pass${passes === 1 ? "" : "es"}`]),
    ...(minutes === Infinity ? [] : [`${minutes} ${clock}`]),
  ];
  return parts.length > 1 ? `${parts.join(" or ")}, whichever ends first` : (parts[0] ?? "");
}

function balanceSentence(
  blocks: number,
  contrasts: readonly { readonly label: string }[],
  between: Float64Array,
  { protect }: Pick<CommonOptions, "protect">,
): string {
  const what = protect ? "protected term" : "main effect";
  const most = between.reduce((largest, value) => Math.max(largest, value), 0);
  const begin = `Each change begins a block of its own, ${blocks} in all, and costs the error ${blocks - 1} degree${blocks === 2 ? "" : "s"} of freedom`;
  // The correlation is the root of a share: rounding of an exact zero share is larger here than elsewhere.
  if (most < Math.sqrt(ROUNDING)) return `${begin}; no ${what} is mixed with what differs between blocks.`;
  const lost = contrasts.filter((_, index) => (between[index] ?? 0) > 1 - 1e-9).map(({ label }) => label);
  if (lost.length > 0) return `${begin}; ${listed(lost)} can't be told from what differs between blocks.`;
  const names = contrasts.filter((_, index) => (between[index] ?? 0) > most - 1e-6).map(({ label }) => label);
  return `${begin}; the largest correlation of a ${what} with what differs between blocks is ${correlationText(most)} (${listed(names)}).`;
}

/** Says where a border had to fall inside a whole plot. */
function splitPlotSentences(runs: readonly StandardRun[]): readonly string[] {
  const inside = runs.flatMap((run, place) => {
    const before = runs[place - 1];
    const same = before?.wholePlot !== undefined && before.wholePlot === run.wholePlot;
    return same && before.block !== run.block ? [place + 1] : [];
  });
  if (inside.length === 0) return [];
  return [
    `The border${inside.length > 1 ? "s" : ""} before run${inside.length > 1 ? "s" : ""} ${listed(inside.map(String))} fall${inside.length > 1 ? "" : "s"} inside a set-up: the hard factors stay as they are, and what differs between blocks is mixed into it.`,
  ];
}
