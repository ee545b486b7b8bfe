import { dependsOn, derivative } from "./derivative.ts";
import type { Graph } from "./graph.ts";

/**
 * The largest set of parameters in which a calculation is linear, all at once and whatever the others are: the derivative with respect to each depends on
 * none of them. Read off the expression; of several largest sets the one that comes first in the order of the parameters.
 * (b1 + b2·x)/(1 + b3·x) gives b1 and b2; b1·b2·x gives b1.
 * @param derivatives the derivative with respect to each parameter, as nodes of the graph
 */
export function linearParameters(graph: Graph, derivatives: readonly number[]): readonly number[] {
  const candidates = derivatives
    .map((_, k) => k)
    .filter((k) => graph.nodes[derivatives[k]].kind !== "number" || !isZero(graph, derivatives[k]))
    .filter(
      (k) => isZero(graph, derivative(graph, derivatives[k], k)) && !dependsOn(graph, derivatives[k], k),
    );
  const apart = candidates.map((k) => new Set(candidates.filter((j) => dependsOn(graph, derivatives[k], j))));
  // With more than 20 candidates (no curve written by hand) the first that fit are taken.
  let budget = 200_000;
  let best: readonly number[] = [];
  const extend = (from: number, chosen: readonly number[]): void => {
    if (chosen.length > best.length) best = chosen;
    for (let i = from; i < candidates.length && budget > 0; i++) {
      budget--;
      if (chosen.length + candidates.length - i <= best.length) return;
      const candidate = candidates[i];
      const clash = chosen.some((one) => apart[i].has(one) || apart[candidates.indexOf(one)].has(candidate));
      if (!clash) extend(i + 1, [...chosen, candidate]);
    }
  };
  extend(0, []);
  return best;
}

function isZero({ nodes }: Graph, id: number): boolean {
  const node = nodes[id];
  return node.kind === "number" && node.value === 0;
}
