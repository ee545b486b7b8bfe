import { defineKind } from "../define-kind.ts";
import { layOutOptimal } from "../optimal/lay-out-optimal.ts";
import { optimalSchema } from "../optimal/options.ts";
import { optimalProblem } from "../optimal/problem.ts";
import { searchAll } from "../optimal/search.ts";

export const optimal = defineKind({
  kind: "optimal",
  summary:
    "The best runs for a stated model, number of runs and constraints, found by search: for what no standard layout fits.",
  schema: optimalSchema,
  layOut: (factors, options, context) => {
    const problem = optimalProblem(factors, options, context);
    return layOutOptimal(problem, searchAll(problem.model, problem.request), options);
  },
});
