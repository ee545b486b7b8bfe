import { blocksInWorkers } from "../../numerics/index.ts";
import { blocksOf, type DrawnBlock } from "./drawn-block.ts";
import type { WorkOptions } from "./work-options.ts";

/** What was drawn, block after block, and whether a stop left some out. */
export interface Drawn {
  readonly blocks: readonly DrawnBlock[];
  readonly stopped: boolean;
}

/** What is drawn: all that the draws need, and how a block of them is made from it; null where nothing can be drawn. */
interface Draws<Order> {
  readonly order: Order | null;
  readonly maker: (order: Order) => (block: number) => DrawnBlock;
}

const nothing: Drawn = { blocks: [], stopped: false };

/** Draws every block here. */
export function drawBlocks<Order extends { readonly draws: number }>({ order, maker }: Draws<Order>): Drawn {
  if (order === null) return nothing;
  const make = maker(order);
  const blocks = Array.from({ length: blocksOf(order.draws) }, (_, block) => make(block));
  return { blocks, stopped: false };
}

/** The same in worker threads, with progress and a stop; `module` is the file that makes blocks there. */
export async function drawBlocksInWorkers<Order extends { readonly draws: number }>(
  { order, maker, module }: Draws<Order> & { readonly module: URL },
  { signal, workers, onProgress }: WorkOptions,
): Promise<Drawn> {
  if (order === null) return nothing;
  const wanted = blocksOf(order.draws);
  let drawn = 0;
  const made = await blocksInWorkers(
    { module, order, blocks: wanted, make: maker(order) },
    {
      signal,
      workers,
      onBlock: (_, block) => onProgress?.({ drawn: (drawn += block.made), asked: order.draws }),
    },
  );
  const inOrder = [...made.entries()].sort(([a], [b]) => a - b).map(([, block]) => block);
  return { blocks: inOrder, stopped: made.size < wanted };
}
