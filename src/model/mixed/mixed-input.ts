import { listed } from "../../units/index.ts";
import type { RandomSource } from "../../numerics/index.ts";
import type { Trial } from "../../trial/index.ts";
import { markOf } from "../chosen-from.ts";
import { modelError } from "../error.ts";
import { fitInput } from "../fit-options.ts";
import type { FitInput } from "../fit-options.ts";
import type { Observations, ObservedSource } from "../observations.ts";
import { sourceName } from "../table-sources.ts";
import { checkedTerms, termsOf } from "../term-sets.ts";
import type { Term } from "../term.ts";
import { requireUsualSize } from "../usual-size.ts";
import type { MixedOptions } from "./mixed-options.ts";
import { observeMixed } from "./observe-mixed.ts";

/** A mixed model that was checked at the door. */
export interface MixedInput extends FitInput {
  readonly sources: readonly ObservedSource[];
  readonly terms: readonly Term[];
  readonly powerLaw: boolean;
  readonly logScale: boolean;
}

export function mixedInput(source: Trial | Observations, options: MixedOptions): MixedInput {
  const { random, model, terms, log = false, response, confidence, smallSample = "satterthwaite" } = options;
  if (smallSample !== "satterthwaite" && smallSample !== "kenward-roger")
    throw modelError(`smallSample "${String(smallSample)}"`, "satterthwaite or kenward-roger");
  if (terms !== undefined && model !== undefined && model !== "power-law")
    throw modelError("both a model and terms", "one of the two");
  const powerLaw = model === "power-law";
  const chosenFrom = options.chosenFrom ?? markOf(terms);
  const logScale = log || powerLaw;
  const observed = "spec" in source ? observeMixed(source, { response, log: logScale, random }) : source;
  const sources = chosen(observed, random);
  const input = fitInput(observed, {
    log: logScale,
    ...(response === undefined ? {} : { response }),
    ...(chosenFrom === undefined ? {} : { chosenFrom }),
    ...(confidence === undefined ? {} : { confidence }),
    // Blocks that vary by chance are not fitted at a level of their own as well.
    block: sources.some(({ name }) => name === (observed.blocks?.name ?? "block")) ? "ignore" : "fit",
  });
  requireUsualSize(input.response, `readings of ${input.observations.response.name}`, "fourth powers");
  const { factors } = input.observations;
  const asked = checkedTerms(terms ?? termsOf(model ?? "main", factors), factors, "intercept");
  return { ...input, sources, terms: asked, powerLaw, logScale };
}

function chosen(
  { sources = [], rows }: Observations,
  random: MixedOptions["random"],
): readonly ObservedSource[] {
  const names = random?.map(sourceName) ?? sources.map(({ name }) => name);
  if (names.length === 0) {
    throw modelError(
      "a mixed fit without a random source",
      "at least one: a column of days, parts, set-ups or runs",
      "Name it in `random`, or fit by least squares.",
    );
  }
  return names.map((name) => {
    const found = sources.find((one) => one.name === name);
    if (found === undefined) {
      const known = sources.map((one) => one.name);
      throw modelError(
        `the unknown random source "${name}"`,
        known.length === 0 ? "observations made with their random sources" : `one of ${listed(known, "or")}`,
        "Name the columns when the observations are made: observeTable(table, { random: [...] }).",
      );
    }
    if (found.of.length !== rows.length)
      throw modelError(`${found.of.length} levels of ${name} for ${rows.length} rows`, "one a row");
    if (new Set(found.of).size < 2) {
      throw modelError(
        `${name} as a random source, with one level in every row`,
        "at least two levels, better five or more",
        `One ${name} says nothing of how ${name}s differ: leave it out, or cut on a second one.`,
      );
    }
    return found;
  });
}

/** The levels in use, numbered without gaps. */
export function levelsIn({ of }: ObservedSource): RandomSource {
  const places = new Map<number, number>();
  const level = Int32Array.from(of, (given) => {
    let place = places.get(given);
    if (place === undefined) places.set(given, (place = places.size));
    return place;
  });
  return { level, levels: places.size };
}
