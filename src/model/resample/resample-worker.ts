import { blockWorker } from "../../numerics/index.ts";
import { bootstrapMaker, type BootstrapOrder } from "./bootstrap-draws.ts";
import { permutationMaker, type PermutationOrder } from "./permutation-draws.ts";

/** A thread's own part in resampling. */
export const startWorker = blockWorker((order: BootstrapOrder | PermutationOrder) =>
  order.kind === "bootstrap" ? bootstrapMaker(order) : permutationMaker(order),
);
