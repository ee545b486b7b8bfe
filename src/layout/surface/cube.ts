import { listed } from "../../units/index.ts";
import type { QuantityFactor } from "../../trial/index.ts";
import { LayoutError } from "../error.ts";
import { blockChoices, blockOfRun, confoundedWithBlocks } from "../two-level/block-choice.ts";
import { effectNames } from "../two-level/effect-text.ts";
import { fractionOf } from "../two-level/fraction-design.ts";
import { generatorTexts } from "../two-level/generator-words.ts";
import { levelsOfRuns, resolutionOf, type RegularDesign } from "../two-level/regular-design.ts";

/** The corner part of a composite layout, with its block for each run. */
export interface Cube {
  readonly rows: readonly (readonly number[])[];
  readonly blockOf: readonly number[];
  readonly generators: readonly string[];
  readonly notes: readonly string[];
}

/**
 * Corners of a composite layout: all, or a fraction that keeps products of two factors apart. With blocks, the last one is
 * for the axial runs and the corners are dealt to the others so that no main effect and no product of two is confounded.
 */
export function cubeOf(factors: readonly QuantityFactor[], cube: "full" | number, blocks: number): Cube {
  const design = designOf(factors, cube);
  const rows = levelsOfRuns(design);
  const names = effectNames(factors.map((factor) => factor.name));
  const cubeBlocks = Math.max(1, blocks - 1);
  const q = Math.log2(cubeBlocks);
  const choiceOf = (own: number) => {
    const masks = own === 0 ? [] : (blockChoices(design, own, 1)[0] ?? []);
    const confounded = confoundedWithBlocks(design, masks, names);
    const low = confounded.some((text) => text.split(names.joint === "" ? "" : names.joint).length < 3);
    return { masks, confounded, clear: own === 0 || !low };
  };
  const found = Number.isInteger(q) && q < design.bits ? choiceOf(q) : undefined;
  if (!found?.clear) {
    const works = [0, 1, 2, 3].filter((own) => own < design.bits && choiceOf(own).clear);
    throw blockError(
      factors.length,
      blocks,
      works.map((own) => 1 + 2 ** own),
    );
  }
  const { masks, confounded } = found;
  return {
    rows,
    blockOf: rows.map((_, run) => blockOfRun(masks, run) + 1),
    generators: generatorTexts(design, names),
    notes: q > 0 ? [`Corners in ${cubeBlocks} blocks, confounded with them: ${listed(confounded)}.`] : [],
  };
}

function blockError(factors: number, blocks: number, works: readonly number[]): LayoutError {
  return new LayoutError(
    `layout.blocks: the corners of ${factors} factors can't be dealt to ${blocks - 1} blocks without confounding products of two factors. Take ${listed(works.map(String), "or")} (one block is for the axial runs).`,
  );
}

function designOf(factors: readonly QuantityFactor[], cube: "full" | number): RegularDesign {
  const full = 2 ** factors.length;
  if (cube === "full" || cube === full) {
    const masks = factors.map((_, place) => 1 << place);
    if (factors.length > 12) {
      const works = fractionsThatDo(factors);
      throw new LayoutError(
        `layout.cube: all corners of ${factors.length} factors are ${full.toLocaleString("en")} runs. ${works.length > 0 ? `Take "cube": ${listed(works.map(String), "or")}.` : 'No fraction of up to 256 runs keeps their products of two factors apart; take fewer factors, or "definitive-screening" first.'}`,
      );
    }
    return { bits: factors.length, masks, signs: masks.map(() => 1) };
  }
  const design = fractionOf(factors, { runs: cube, part: 1, foldOver: "none" });
  const resolution = resolutionOf(design) ?? 5;
  if (resolution >= 5) return design;
  const [works] = fractionsThatDo(factors).filter((runs) => runs > cube);
  throw new LayoutError(
    `layout.cube: ${cube} corners of ${factors.length} factors have resolution ${resolution}; a surface needs 5, so that products of two factors stand apart. Take ${works ?? (factors.length > 12 ? "fewer factors" : full)}.`,
  );
}

/** Runs of the fractions that keep products of two factors apart, the fewest first. */
function fractionsThatDo(factors: readonly QuantityFactor[]): readonly number[] {
  return [8, 16, 32, 64, 128, 256].filter(
    (runs) =>
      runs > factors.length &&
      runs < 2 ** factors.length &&
      (resolutionOf(fractionOf(factors, { runs, part: 1, foldOver: "none" })) ?? 0) >= 5,
  );
}
