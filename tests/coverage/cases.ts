import { calibrationCases } from "./calibration.ts";
import { comparisonCases } from "./comparisons.ts";
import type { CoverageCase } from "./coverage-case.ts";
import { floorCases } from "./floor.ts";
import { furtherFloorCases } from "./floor-further.ts";
import { levelScatterCases } from "./level-scatter.ts";
import { linearCases } from "./linear.ts";
import { mixedCases } from "./mixed.ts";
import { mixedRecipeCases } from "./mixed-recipes.ts";
import { mixedPredictionCases } from "./mixed-predictions.ts";
import { nestedCases } from "./nested.ts";
import { powerCases } from "./power.ts";
import { recipeCases } from "./recipes.ts";
import { remarkCases } from "./remarks.ts";
import { resampleCases } from "./resample.ts";
import { screeningCases } from "./screening.ts";
import { severalLimitCases } from "./several-limits.ts";
import { splitSurfaceCases } from "./split-surface.ts";
import { surfaceCases } from "./surface.ts";
import { transformCases } from "./transform.ts";

/** Every case, by the part of the analysis that it belongs to. */
export const parts: Readonly<Record<string, readonly CoverageCase[]>> = {
  calibration: calibrationCases,
  comparisons: comparisonCases,
  floor: floorCases,
  furtherFloor: furtherFloorCases,
  levelScatter: levelScatterCases,
  linear: linearCases,
  mixed: mixedCases,
  mixedRecipes: mixedRecipeCases,
  mixedPredictions: mixedPredictionCases,
  nested: nestedCases,
  power: powerCases,
  recipes: recipeCases,
  remarks: remarkCases,
  resample: resampleCases,
  screening: screeningCases,
  severalLimits: severalLimitCases,
  splitSurface: splitSurfaceCases,
  surface: surfaceCases,
  transform: transformCases,
};

export const cases: readonly CoverageCase[] = Object.values(parts).flat();
