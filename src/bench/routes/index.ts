import type { AddRoutes } from "../bench-context.ts";
import { addChangeRoutes } from "./changes.ts";
import { addDraftRoutes } from "./drafts.ts";
import { addFindingRoutes } from "./finding.ts";
import { addGrowingRoutes } from "./growing.ts";
import { addImportRoutes } from "./import.ts";
import { addNotebookRoutes } from "./notebooks.ts";
import { addPlanRoutes } from "./plan.ts";
import { addRecipeRoutes } from "./recipe.ts";
import { addReviewRoutes } from "./review.ts";
import { addRunSheetRoutes } from "./run-sheet.ts";
import { addChoiceRoutes } from "./choices.ts";
import { addSearchRoutes } from "./searches.ts";
import { addSessionRoutes } from "./session.ts";
import { addTrialRoutes } from "./trials.ts";

export const routes: readonly AddRoutes[] = [
  addSessionRoutes,
  addTrialRoutes,
  addDraftRoutes,
  addChoiceRoutes,
  addSearchRoutes,
  addPlanRoutes,
  addRunSheetRoutes,
  addReviewRoutes,
  addRecipeRoutes,
  addGrowingRoutes,
  addFindingRoutes,
  addImportRoutes,
  addNotebookRoutes,
  addChangeRoutes,
];
