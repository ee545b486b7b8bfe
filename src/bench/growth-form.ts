import { z } from "zod";
import { growingFacts, type GrowingFacts } from "../finding/index.ts";
import type { HowAsked } from "../layout/index.ts";
import type { Trial } from "../trial/index.ts";
import { parseNumber } from "../units/index.ts";
import { BenchError, isRefusal } from "./error.ts";

const text = z.string().max(500).default("");

/** The form by which a trial is grown: what was typed, as it was typed; empty fields are left to the defaults. */
export const growthForm = z.strictObject({
  by: z.enum(["fold", "axial", "replicate", "separate", "proof"]),
  block: z.enum(["new", "last"]).default("new"),
  tie: text,
  seed: text,
  sigma: text,
  /** Fold: the factors to turn over; empty for all. */
  factors: text,
  axial: text,
  centrePoints: text,
  range: z.enum(["corners", "limits"]).default("corners"),
  /** Replicate: an effect; empty for the mean at the trial's recipe. */
  effect: text,
  runs: text,
  between: text,
  rule: z.enum(["share", "parts", "mean"]).default("mean"),
  failGood: text,
  passBad: text,
});

export type GrowthForm = z.output<typeof growthForm>;

/** How a trial is to be grown by a filled form, with what its readings give; a field that can't be read is refused by name. */
export function howOf(
  form: GrowthForm,
  trial: Trial,
): { readonly how: HowAsked; readonly facts: GrowingFacts } {
  const facts = growingFacts(trial, {
    for: form.by === "proof" && form.rule !== "mean" ? "next-part" : "mean",
  });
  const sigma = numberIn(form.sigma, "Scatter σ") ?? facts.sigma;
  const common = {
    block: form.block,
    ...optional("tie", numberIn(form.tie, "Common runs")),
    ...optional("seed", numberIn(form.seed, "Seed")),
    ...(sigma === null ? {} : { sigma }),
  };
  switch (form.by) {
    case "fold": {
      const factors = form.factors
        .split(/[,;]/)
        .map((name) => name.trim())
        .filter((name) => name !== "");
      return { facts, how: { by: "fold", ...common, factors: factors.length === 0 ? "all" : factors } };
    }
    case "axial":
      return {
        facts,
        how: {
          by: "axial",
          ...common,
          axial: distanceIn(form.axial),
          range: form.range,
          ...optional("centrePoints", numberIn(form.centrePoints, "Centre runs")),
        },
      };
    case "replicate":
      return {
        facts,
        how: {
          by: "replicate",
          ...common,
          question:
            form.effect.trim() === "" ? { at: { ...recipeOf(facts).at } } : { effect: form.effect.trim() },
          ...optional("runs", numberIn(form.runs, "Runs")),
        },
      };
    case "separate":
      if (form.between.trim() === "")
        throw new BenchError(
          422,
          "Explanations: nothing was typed; expected two, such as depth = feed × speed.",
        );
      return { facts, how: { by: "separate", ...common, between: form.between } };
    case "proof": {
      const { at, limit, side, log, goodMean, sigma: scatter } = recipeOf(facts);
      return {
        facts,
        how: {
          by: "proof",
          ...common,
          at: { ...at },
          rule: form.rule,
          limit,
          side,
          log,
          ...(form.rule === "mean" ? { goodMean, sigma: scatter } : {}),
          ...optional("failGood", shareIn(form.failGood, "Chance to fail a good recipe")),
          ...optional("passBad", shareIn(form.passBad, "Chance to pass a bad one")),
        },
      };
    }
  }
}

function recipeOf({ recipe, noRecipe }: GrowingFacts) {
  if (recipe !== null) return recipe;
  throw new BenchError(
    422,
    `There is no recipe to go by: ${noRecipe}. Name an effect, or read more runs first.`,
  );
}

function numberIn(typed: string, label: string): number | null {
  if (typed.trim() === "") return null;
  try {
    return parseNumber(typed);
  } catch (cause) {
    if (!isRefusal(cause)) throw cause;
    throw new BenchError(422, `${label}: ${cause.message}`, { cause });
  }
}

/** A chance typed in per cent. */
function shareIn(typed: string, label: string): number | null {
  const percent = numberIn(typed.replace("%", ""), label);
  return percent === null ? null : percent / 100;
}

function distanceIn(typed: string): "block-orthogonal" | "rotatable" | "face" | number {
  const word = (["block-orthogonal", "rotatable", "face"] as const).find((name) => name === typed.trim());
  return word ?? numberIn(typed, "Distance") ?? "block-orthogonal";
}

function optional<Name extends string>(
  name: Name,
  value: number | null,
): { readonly [Key in Name]?: number } {
  // One field of the name asked for, or none.
  return (value === null ? {} : { [name]: value }) as { readonly [Key in Name]?: number };
}
