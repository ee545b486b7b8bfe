import { listed } from "../../units/index.ts";
import type { Factor } from "../../trial/index.ts";
import type { CommonOptions } from "../common-options.ts";
import { centreNotes, centreRuns, numbered, type UnnumberedRun } from "../deal.ts";
import { refuseTooManyRuns } from "../define-kind.ts";
import type { StandardLayout } from "../layout.ts";
import { aliasSets, aliasTexts, definingWords } from "./aliases.ts";
import { blocksOf } from "./blocks-of.ts";
import { effectNames, effectText, type EffectNames } from "./effect-text.ts";
import { generatorTexts } from "./generator-words.ts";
import { levelsOfRuns, resolutionOf, type RegularDesign } from "./regular-design.ts";
import { leftOutLevels, twoLevelSettings } from "./two-levels.ts";

export interface RegularOptions extends CommonOptions {
  readonly centrePoints: number;
  readonly aliasOrder: number;
}

/** Runs, blocks, centre points and alias structure of a regular two-level layout. */
export function layOutRegular(
  kind: string,
  factors: readonly Factor[],
  design: RegularDesign,
  options: RegularOptions,
): StandardLayout {
  refuseTooManyRuns(kind, 2 ** design.bits, options.replicates, "Give more generators, or fewer factors.");
  const rows = levelsOfRuns(design);
  const settings = rows.map((row) => twoLevelSettings(kind, factors, row));
  const names = effectNames(factors.map((factor) => factor.name));
  const { replicates, blocks, notes } = blocksOf(kind, design, names, options);
  const runs = replicates.flatMap((blockOf): UnnumberedRun[] =>
    settings.map((own, run) => ({ block: blockOf(run), role: "corner", settings: own })),
  );
  const resolution = resolutionOf(design);
  return {
    runs: numbered([...runs, ...centreRuns(kind, factors, options.centrePoints, blocks)]),
    generators: generatorTexts(design, names),
    definingRelation: definingWords(design, names) ?? [],
    ...(resolution === undefined ? {} : { resolution }),
    aliases: aliasTexts(design, names, options.aliasOrder),
    notes: [
      ...clearNotes(design, names),
      ...notes,
      ...leftOutLevels(factors),
      ...centreNotes(factors, options.centrePoints),
    ],
  };
}

/** Which effects of one and two factors have no other of one or two beside them. */
function clearNotes(design: RegularDesign, names: EffectNames): readonly string[] {
  const sets = aliasSets(design, 2);
  const clear = sets
    .filter((set) => set.mask !== 0 && set.effects.length === 1)
    .map((set) => set.effects[0]?.places ?? []);
  const factors = design.masks.length;
  const mains = clear.filter((places) => places.length === 1);
  const pairs = clear.filter((places) => places.length === 2);
  const pairsInAll = (factors * (factors - 1)) / 2;
  const texts = (places: readonly (readonly number[])[]) =>
    listed(places.map((place) => effectText(names, place)));
  const notes: string[] = [];
  if (mains.length === factors) notes.push("Every main effect is clear of products of two factors.");
  else if (mains.length > 0) notes.push(`Clear of products of two factors: ${texts(mains)}.`);
  else notes.push("No main effect is clear of products of two factors.");
  if (pairs.length === pairsInAll)
    notes.push("Every product of two factors is clear of main effects and of other such products.");
  else if (pairs.length > 0) notes.push(`Products of two factors that are clear of others: ${texts(pairs)}.`);
  return notes;
}
