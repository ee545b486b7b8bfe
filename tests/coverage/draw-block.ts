/* One block of one case, in a worker of its own. */
import { parentPort } from "node:worker_threads";
import { seededRandom } from "../../src/numerics/index.ts";
import { cases } from "./cases.ts";

/** What the worker is asked for, by the name of a case; of cases drawn together any one will do. */
export interface BlockRequest {
  readonly name: string;
  readonly block: number;
  readonly trials: number;
}

export interface BlockAnswer extends BlockRequest {
  /** Of the case, or of each of those that are drawn together. */
  readonly counts: readonly { readonly name: string; readonly held: number; readonly without: number }[];
}

export function drawBlock({ name, block, trials }: BlockRequest): BlockAnswer {
  const asked = cases.find((candidate) => candidate.name === name);
  if (!asked) throw new Error(`There is no case "${name}".`);
  const { seed, simulate, together = { names: [name], simulate: (from) => [simulate(from)] } } = asked;
  const random = seededRandom(seed, { stream: block });
  const counts = together.names.map((one) => ({ name: one, held: 0, without: 0 }));
  for (let trial = 0; trial < trials; trial++) {
    const outcomes = together.simulate(random);
    counts.forEach((count, k) => {
      if (outcomes[k] === null) count.without++;
      else if (outcomes[k]) count.held++;
    });
  }
  return { name, block, trials, counts };
}

parentPort?.on("message", (request: BlockRequest) => parentPort?.postMessage(drawBlock(request)));
