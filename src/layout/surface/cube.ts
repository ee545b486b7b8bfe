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
  if (!Number.isInteger(q) || q >= design.bits) throw blockError(factors.length, blocks, [2, 3, 5]);
  const masks = q === 0 ? [] : (blockChoices(design, q, 1)[0] ?? []);
  const confounded = confoundedWithBlocks(design, masks, names);
  const worst = confounded.some((text) => text.split(names.joint === "" ? "" : names.joint).length < 3);
  if (q > 0 && worst) {
    const works = [2, 3, 5].filter((count) => count < blocks);
    throw blockError(factors.length, blocks, works.length > 0 ? works : [1]);
  }
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
      throw new LayoutError(
        `layout.cube: all corners of ${factors.length} factors are ${full.toLocaleString("en")} runs. Give "cube" the runs of a fraction.`,
      );
    }
    return { bits: factors.length, masks, signs: masks.map(() => 1) };
  }
  const design = fractionOf(factors, { runs: cube, part: 1, foldOver: "none" });
  const resolution = resolutionOf(design) ?? 5;
  if (resolution >= 5) return design;
  const works = Array.from({ length: factors.length - 1 }, (_, index) => 2 ** (index + 2)).find(
    (runs) =>
      runs > cube &&
      (runs === full || (resolutionOf(fractionOf(factors, { runs, part: 1, foldOver: "none" })) ?? 5) >= 5),
  );
  throw new LayoutError(
    `layout.cube: ${cube} corners of ${factors.length} factors have resolution ${resolution}; a surface needs 5, so that products of two factors stand apart. Take ${works ?? '"full"'}.`,
  );
}
