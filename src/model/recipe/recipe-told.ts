import { settingText, type TrialSpec } from "../../trial/index.ts";
import { formatNumber, listed } from "../../units/index.ts";
import type { JointRecipe } from "./joint-recipe.ts";
import { capital } from "./joint-recipe-text.ts";
import { proofMethod, recipeMethods } from "./recipe-methods.ts";

/** The rule by which proof runs of one limit pass or fail. */
export interface ProofTold {
  readonly response: string;
  /** "12 parts"; empty where no rule can be laid out. */
  readonly runs: string;
  readonly rule: string;
  /** Both chances of being wrong. */
  readonly chances: string;
  readonly why: string;
  readonly method: string;
  /** Why there is no rule; empty where there is one. */
  readonly none: string;
}

/** A recipe as a page tells it. */
export interface RecipeTold {
  readonly found: boolean;
  /** What to set, factor by factor, and what comes of it. */
  readonly settings: readonly (readonly [name: string, text: string])[];
  readonly figures: readonly (readonly [name: string, text: string])[];
  /** Each limit with whom it holds for, its bound, its margin and how sure; why there is no recipe. */
  readonly sentences: readonly string[];
  readonly proof: readonly ProofTold[];
  readonly notes: readonly string[];
  /** How it was found and proved, with sources. */
  readonly methods: readonly string[];
  readonly proofMethods: readonly string[];
}

/**
 * A recipe in the words and the order in which every page tells it, the bench's panel and the published page alike: what to set, what a pass comes to and what binds,
 * each limit with its margin, the rule of the proof runs, notes and methods. `system` is that of the settings; default the trial's own.
 * Example: `recipeTold(recipe, spec).settings[0]` is `["feed", "0.15 mm/rev"]`.
 */
export function recipeTold(
  recipe: JointRecipe,
  spec: TrialSpec,
  { system = spec.display }: { readonly system?: "metric" | "inch" | "both" } = {},
): RecipeTold {
  const found = recipe.outcome === "found";
  const proof = recipe.proof.map(proofTold);
  return {
    found,
    settings: spec.factors.flatMap((factor) => {
      const setting = recipe.settings[factor.name];
      return setting === undefined ? [] : [[factor.name, settingText(factor, setting, system)] as const];
    }),
    figures: found ? figuresOf(recipe) : [],
    sentences: [
      ...(found ? [] : [`No settings keep every limit: ${recipe.reason}.`]),
      ...recipe.limits.map(({ text }) => text),
    ],
    proof,
    notes: recipe.notes.map((note) => `${capital(note)}.`),
    methods: recipeMethods(recipe),
    proofMethods: [...new Set(proof.map(({ method }) => method))].filter((method) => method !== ""),
  };
}

/** What a pass comes to, and what binds, as the shop reads it beside the settings. */
function figuresOf(recipe: JointRecipe): RecipeTold["figures"] {
  const { removalRateCm3PerMin: removal, minutes, removalRatio, minutesRatio, binding, stops } = recipe;
  const number = (value: number) => formatNumber(value, { digits: 3 });
  const today = (ratio: number | null) => (ratio === null ? "" : `, ${number(ratio)} times today's`);
  const ends = stops.flatMap(({ factor, by }) =>
    by.includes("machine")
      ? [`the machine's limits (${factor})`]
      : by.includes("range")
        ? [`the end of what was cut (${factor})`]
        : [],
  );
  const together = percentText(recipe.assuranceTogether);
  const what = [...(binding.length === 0 ? [] : [`the bound of ${listed(binding)}`]), ...ends];
  return [
    ...(removal === null ? [] : [["Removal", `${number(removal)} cm³/min${today(removalRatio)}`] as const]),
    ...(minutes === null ? [] : [["A pass takes", `${number(minutes)} min${today(minutesRatio)}`] as const]),
    ...(what.length === 0 ? [] : [["What binds", listed(what)] as const]),
    ...(recipe.limits.length < 2 ? [] : [["All limits together", `at least ${together} sure`] as const]),
  ];
}

function percentText(share: number): string {
  return `${Number((100 * share).toFixed(2))} %`;
}

function proofTold({ response, plan, reason }: JointRecipe["proof"][number]): ProofTold {
  const none = { response, runs: "", rule: "", chances: "", why: "", method: "" };
  if (plan === null) return { ...none, none: reason };
  if (plan.outcome === "none") return { ...none, none: plan.reason };
  return {
    response,
    runs: plan.runs === 1 ? "1 part" : `${plan.runs} parts`,
    rule: plan.ruleText,
    chances: plan.chancesText,
    why: plan.why,
    method: proofMethod(plan.rule),
    none: "",
  };
}
