import { blockWorker } from "../../numerics/index.ts";
import { choiceMaker } from "./choice-maker.ts";

/** A thread's own part in choosing anew. */
export const startWorker = blockWorker(choiceMaker);
