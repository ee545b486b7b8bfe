import { listed } from "../../units/index.ts";
import type { CommonOptions } from "../common-options.ts";
import { LayoutError } from "../error.ts";
import { blockBits, blockChoices, blockOfRun, confoundedWithBlocks } from "./block-choice.ts";
import type { EffectNames } from "./effect-text.ts";
import type { RegularDesign } from "./regular-design.ts";

/** For each replicate, the block (from 1) of each run in standard order. */
export interface ReplicateBlocks {
  readonly replicates: readonly ((run: number) => number)[];
  readonly blocks: number;
  /** What is confounded with blocks, in words. */
  readonly notes: readonly string[];
}

/**
 * Deals a regular layout to blocks: whole replicates where they go round; else each replicate, or all of them alike, is cut
 * into halves, quarters … that confound the fewest effects of low order. Replicates cut into parts each confound another
 * choice, so that what one can't tell another can (partial confounding).
 */
export function blocksOf(
  kind: string,
  design: RegularDesign,
  names: EffectNames,
  options: Pick<CommonOptions, "replicates" | "blocks">,
): ReplicateBlocks {
  const { replicates, blocks } = options;
  if (replicates % blocks === 0) {
    const share = replicates / blocks;
    return {
      replicates: Array.from(
        { length: replicates },
        (_, replicate) => () => Math.floor(replicate / share) + 1,
      ),
      blocks,
      notes: blocks > 1 ? ["Each block holds whole replicates: no effect is confounded with blocks."] : [],
    };
  }
  if (blocks % replicates === 0) return partedReplicates(kind, design, names, replicates, blocks);
  const q = blockBits(kind, blocks, design.bits);
  const masks = blockChoices(design, q, 1)[0] ?? [];
  return {
    replicates: Array.from({ length: replicates }, () => (run: number) => blockOfRun(masks, run) + 1),
    blocks,
    notes: [confoundedNote(confoundedWithBlocks(design, masks, names), "")],
  };
}

function partedReplicates(
  kind: string,
  design: RegularDesign,
  names: EffectNames,
  replicates: number,
  blocks: number,
): ReplicateBlocks {
  const parts = blocks / replicates;
  const q = partBits(kind, blocks, replicates, design.bits);
  const choices = blockChoices(design, q, replicates);
  const chosen = Array.from(
    { length: replicates },
    (_, replicate) => choices[replicate % choices.length] ?? [],
  );
  return {
    replicates: chosen.map(
      (masks, replicate) => (run: number) => replicate * parts + blockOfRun(masks, run) + 1,
    ),
    blocks,
    notes: chosen.map((masks, replicate) =>
      confoundedNote(
        confoundedWithBlocks(design, masks, names),
        replicates > 1
          ? `Replicate ${replicate + 1} (blocks ${replicate * parts + 1} to ${(replicate + 1) * parts}): `
          : "",
      ),
    ),
  };
}

function partBits(kind: string, blocks: number, replicates: number, bits: number): number {
  const q = Math.log2(blocks / replicates);
  if (Number.isInteger(q) && q < bits) return q;
  if (replicates === 1) return blockBits(kind, blocks, bits);
  throw new LayoutError(
    `layout.blocks: ${replicates} replicates of ${2 ** bits} runs can't be cut into ${blocks} blocks. Take ${replicates}, ${replicates * 2} or ${replicates * 4} blocks.`,
  );
}

function confoundedNote(confounded: readonly string[], lead: string): string {
  const text =
    confounded.length > 0
      ? `confounded with blocks: ${listed(confounded)}.`
      : "no effect of low order is confounded with blocks.";
  return lead === "" ? text.charAt(0).toUpperCase() + text.slice(1) : lead + text;
}
