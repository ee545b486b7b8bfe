/* One block of one case, in a worker of its own. */
import { parentPort } from "node:worker_threads";
import { seededRandom } from "../../src/numerics/index.ts";
import { cases } from "./cases.ts";

/** What the worker is asked for, by the number of the case. */
export interface BlockRequest {
  readonly name: string;
  readonly block: number;
  readonly trials: number;
}

export interface BlockAnswer extends BlockRequest {
  readonly held: number;
  readonly without: number;
}

export function drawBlock({ name, block, trials }: BlockRequest): BlockAnswer {
  const asked = cases.find((candidate) => candidate.name === name);
  if (!asked) throw new Error(`There is no case "${name}".`);
  const random = seededRandom(asked.seed, { stream: block });
  let held = 0;
  let without = 0;
  for (let trial = 0; trial < trials; trial++) {
    const outcome = asked.simulate(random);
    if (outcome === null) without++;
    else if (outcome) held++;
  }
  return { name, block, trials, held, without };
}

parentPort?.on("message", (request: BlockRequest) => parentPort?.postMessage(drawBlock(request)));
