import { fitMixed } from "../model/index.ts";
import type { MixedFit, ModelKind, Observations, RandomColumns, Term } from "../model/index.ts";
import { UsageError } from "./error.ts";
import { chosenTyped } from "./chosen-typed.ts";
import { choiceOption, namesOption, probabilityOption } from "./option-values.ts";
import type { OptionValues } from "./verb.ts";

const methods = ["satterthwaite", "kenward-roger"] as const;

export function asksForMixed(options: OptionValues): boolean {
  if (options["random"] !== undefined) return true;
  if (options["small-sample"] !== undefined)
    throw new UsageError("--small-sample goes with --random: without random sources intervals are exact.");
  return false;
}

/** The sources of --random: columns, or columns joined by a plus sign. */
export function randomColumns(options: OptionValues): readonly RandomColumns[] {
  return (namesOption(options, "random") ?? []).map((name) => {
    const parts = name.split("+").map((part) => part.trim());
    return parts.length === 1 ? name : parts;
  });
}

export function smallSampleOption(options: OptionValues): (typeof methods)[number] | undefined {
  return choiceOption(options, "small-sample", methods);
}

export function mixedFitted(
  observations: Observations,
  asked: { readonly model: ModelKind | undefined; readonly terms: readonly Term[] | undefined },
  options: OptionValues,
): MixedFit {
  if (options["through-origin"] === true)
    throw new UsageError("--through-origin has no meaning with --random, whose sources vary about a mean.");
  if (observations.sources === undefined)
    throw new UsageError("--random is empty: name the columns of what varies by chance, such as day,plot.");
  const confidence = probabilityOption(options, "confidence");
  const smallSample = smallSampleOption(options);
  return fitMixed(observations, {
    ...(asked.model === undefined ? {} : { model: asked.model }),
    ...(asked.terms === undefined ? {} : { terms: asked.terms }),
    ...(confidence === undefined ? {} : { confidence }),
    ...(smallSample === undefined ? {} : { smallSample }),
    ...chosenTyped(options),
    log: options["log"] === true,
    coded: options["coded"] === true,
  });
}
