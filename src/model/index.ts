// Models of a trial: terms, observations, fits, and what follows from them.
export type { ModelKind, Term } from "./term.ts";
export { intercept, main, power, squared, termKey, times } from "./term.ts";
export { termsOf } from "./term-sets.ts";
export { termLabel } from "./design.ts";
export { fixedValues } from "./term-values.ts";

export type {
  Observation,
  Observations,
  ObservedBlocks,
  ObservedFactor,
  ObservedSource,
  RepeatScatter,
} from "./observations.ts";
export type { ObserveOptions } from "./observe.ts";
export { observe } from "./observe.ts";
export type { ObserveTableOptions } from "./observe-table.ts";
export type { TableColumn } from "./table-column.ts";
export { observeTable } from "./observe-table.ts";

export type {
  AnalysisRow,
  Coefficient,
  Curvature,
  Effect,
  ExactlyJudged,
  Fit,
  FittedRow,
  InseparableSet,
  Interval,
  LackOfFit,
  Prediction,
  Surface,
  Uncertain,
  Unreplicated,
} from "./fit.ts";
export type { FitOptions } from "./fit-options.ts";
export { fitLinear } from "./fit-linear.ts";
export type { PowerLawOptions } from "./fit-power-law.ts";
export { fitPowerLaw } from "./fit-power-law.ts";
export type { RestrictedFit, RestrictedOptions, Restriction } from "./restricted.ts";
export { fitRestricted } from "./restricted.ts";
export { isInterval } from "./words.ts";
export { fitMethods, type FitMethods } from "./fit-methods.ts";
export type { FitJson } from "./fit-json.ts";
export { fitJson } from "./fit-json.ts";

export type {
  LargestSetting,
  LargestSettingOptions,
  PassFigures,
  Piece,
  Recipe,
  RecipeOptions,
  Recipes,
} from "./recipe.ts";
export { largestSetting } from "./largest-setting.ts";
export { recipes } from "./recipes.ts";
export { jointRecipe } from "./recipe/find-joint-recipe.ts";
export type { JointRecipe, JointRecipeOptions, LimitKept, LimitProof, Stop } from "./recipe/joint-recipe.ts";
export { keptRegionMethod, nextPassesMethod, proofMethod, recipeMethods } from "./recipe/recipe-methods.ts";
export { pushesOf, pushOf, type Pushes } from "./recipe/pushes.ts";
export { recipeTold, type ProofTold, type RecipeTold } from "./recipe/recipe-told.ts";
export type { LimitAsked, LimitFor, ResponseLimit } from "./recipe/response-limit.ts";
export type { Objective } from "./recipe/pass-score.ts";
export { keptRegion } from "./recipe/kept-region.ts";
export type { KeptPart, KeptRegion, KeptRegionOptions } from "./recipe/kept-region.ts";
export { desirability, overallDesirability, type Wish } from "./recipe/desirability.ts";
export { mostDesirable, type MostDesirable, type MostDesirableOptions } from "./recipe/most-desirable.ts";
export { nextPasses } from "./recipe/next-passes.ts";
export type { NextPass, NextPasses, NextPassesOptions, Outlook } from "./recipe/next-passes.ts";
export { limitRoom, type LimitRoom } from "./recipe/limit-room.ts";
export { boundMultiple } from "./recipe/bound-multiple.ts";
export type { PointEvaluator } from "./recipe/point-evaluator.ts";
export { robustFit, type RobustCoefficient, type RobustFit } from "./robust-fit.ts";
export type { SecondOpinion } from "./second-opinion.ts";
export { secondOpinion, secondOpinionOn } from "./second-opinion.ts";

export { fitMixed, isMixedFit, mixedFitJson } from "./mixed/index.ts";
export type {
  AddedColumns,
  MixedFit,
  MixedOptions,
  MixedPrediction,
  PlainClaim,
  VariancePart,
} from "./mixed/index.ts";
export type { RandomColumns } from "./table-sources.ts";

export { ExpressionError, fitCurve, parseExpression, settingFor } from "./curve/index.ts";
export type {
  CurveFit,
  CurveOptions,
  CurveParameter,
  CurvePrediction,
  CurveRow,
  CurveStarts,
  Expression,
  ParameterProfile,
  SettingFor,
  SettingForOptions,
} from "./curve/index.ts";

export { contrast, type ChangeBetween, type Contrast, type FittedChange } from "./contrast/index.ts";
export { sourceWords } from "./source-words.ts";
export { besideCusp, type BesideCusp } from "./beside-cusp.ts";
export { meanOverMedian, type MeanOverMedian } from "./mean-over-median.ts";
export { fitFloor, floorJson } from "./floor/index.ts";
export type {
  FloorFit,
  FloorForm,
  FloorJson,
  FloorOptions,
  FloorPrediction,
  SeparatingPasses,
  WithoutFloor,
} from "./floor/index.ts";
export {
  bendIntervals,
  pathTable,
  ridgePath,
  stationaryRegion,
  steepestPath,
  surfaceSentences,
} from "./surface/index.ts";
export type {
  BendInterval,
  Increments,
  PathPlace,
  PathStep,
  RidgePoint,
  SecondDegree,
  StationaryRegion,
  SteepestPath,
  SteepestPathOptions,
} from "./surface/index.ts";
export { heredities, inertLimits, modelsWithinReach, twoStageScreening } from "./screening/index.ts";
export type {
  FirstStageEffect,
  Heredity,
  InertLimits,
  ModelsWithinReach,
  ReachableModel,
  ReachOptions,
  TwoStageOptions,
  TwoStageScreening,
} from "./screening/index.ts";
export {
  compareLevels,
  equivalence,
  equivalencePower,
  equivalenceRuns,
  holmAdjusted,
} from "./comparison/index.ts";
export type {
  ComparedLevel,
  CompareOptions,
  Comparison,
  ComparisonMethod,
  Equivalence,
  EquivalenceOptions,
  EquivalencePlan,
  EquivalentPair,
  LevelPair,
  OverallTest,
} from "./comparison/index.ts";
export { findTransform } from "./transform/index.ts";
export type { Transform, TransformChoice } from "./transform/index.ts";
export {
  logVarianceMoments,
  scatterBeside,
  scatterFromReplicates,
  scatterFromResiduals,
  unequalScatter,
} from "./dispersion/index.ts";
export type {
  LogVarianceMoments,
  ResidualScatter,
  ResidualScatterEffect,
  ResidualScatterOptions,
  ScatterBeside,
  ScatterCell,
  ScatterEffect,
  ScatterFit,
  ScatterOf,
  ScatterOptions,
  UnequalScatter,
} from "./dispersion/index.ts";

export {
  bootstrap,
  bootstrapInWorkers,
  effectsWithoutRun,
  leftInResiduals,
  levelsLeftInResiduals,
  mostInfluential,
  permutationTest,
  permutationTestInWorkers,
} from "./resample/index.ts";
export type {
  Bootstrap,
  BootstrapFigure,
  BootstrapOptions,
  EffectWithout,
  LeftInResiduals,
  LevelsInResiduals,
  MostInfluential,
  Permutation,
  PermutationOptions,
  WorkOptions,
} from "./resample/index.ts";

export { bootstrapChoice, bootstrapChoiceInWorkers } from "./choice/index.ts";
export type { BootstrapChoiceOptions, ChoiceBootstrap, ChoiceFigure } from "./choice/index.ts";

export { choiceNote } from "./chosen-from.ts";
export type { ChosenFrom, ChosenTerms } from "./chosen-from.ts";
export {
  bestOfTwoStages,
  bestWithinReach,
  crossValidate,
  leftOutBeside,
  leftOutSentence,
  linesOrPowerLaw,
  scaleByReadings,
  validateChoice,
  validateChoiceInSteps,
  validateTwoStages,
} from "./cross-validation/index.ts";
export type {
  ChoiceValidation,
  Choose,
  CrossValidation,
  FoldOptions,
  LeftOutRow,
  ValidateChoiceOptions,
} from "./cross-validation/index.ts";

export { ModelError } from "./error.ts";

export { proofPlan } from "./proof-runs/plan-proof.ts";
export { passChance } from "./proof-runs/pass-chance.ts";
export { proofVerdict, type ProofVerdict } from "./proof-runs/verdict.ts";
export { proofOfRecipe, type ProofOfRecipeOptions } from "./proof-runs/proof-of-recipe.ts";
export type {
  NoProofPlan,
  ProofAsked,
  ProofCriterion,
  ProofPlan,
  ProofRule,
} from "./proof-runs/proof-plan.ts";
