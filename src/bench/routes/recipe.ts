import type { AddRoutes } from "../bench-context.ts";
import { openProjectTrial } from "../open-project-trial.ts";

/** The recipe that the readings of a trial allow, its map, and what to cut next. */
export const addRecipeRoutes: AddRoutes = (bench, { root }) => {
  bench.get("/api/trials/:name/recipe", async (request) => {
    const trial = await openProjectTrial(root, request);
    const { recipeAnswer } = await import("../recipe-view.ts");
    return request.json(recipeAnswer(trial, request.req.query()));
  });

  // Apart, since it searches several times over: the recipe need not wait for it.
  bench.get("/api/trials/:name/recipe/next", async (request) => {
    const trial = await openProjectTrial(root, request);
    const { recipeNextAnswer } = await import("../recipe-next-view.ts");
    return request.json(recipeNextAnswer(trial, request.req.query()));
  });
};
