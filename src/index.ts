// The public library on one page: what notebooks import as "trycut". Each folder's own door says more.

// Notebooks.
export { notebook, NotebookError, openTrial } from "./notebook/index.ts";
export type {
  Answers,
  Ask,
  AskedQuantity,
  Notebook,
  NotebookPage,
  Page,
  TableSource,
} from "./notebook/index.ts";

// Trials on disk.
export {
  addGrowth,
  addRuns,
  commitImport,
  createTrial,
  createTrialFromTable,
  layOutTrial,
  listTrials,
  noteAsCut,
  notePublished,
  previewImport,
  questionsAbout,
  readingTable,
  readTable,
  record,
  StoreError,
  trialChecksum,
  trialFromTable,
  voidReading,
  writeCsv,
} from "./store/index.ts";
export type { DataTable, NewReading, TrialFolder, TrialSummary } from "./store/index.ts";

// What a trial is.
export {
  codedValue,
  factorNamed,
  heldQuantity,
  naturalValue,
  parseTrialSpec,
  pointsOf,
  readingsInUse,
  settingsAsCut,
  settingText,
  TrialError,
  wholePlotsOf,
} from "./trial/index.ts";
export type {
  CategoryFactor,
  Factor,
  QuantityFactor,
  Reading,
  Response,
  Run,
  Setting,
  Settings,
  Trial,
  TrialSpec,
  WholePlots,
} from "./trial/index.ts";

// Laying out runs, and judging them before a chip is cut.
export {
  checkLimits,
  chooseLayout,
  correlationWithOrder,
  foldChoices,
  grow,
  errorStrata,
  fewestWholePlots,
  judge,
  kinds,
  layOut,
  layOutWithProgress,
  LayoutError,
  LimitError,
  minutesInCut,
  costSoFar,
  planCost,
  sigmaRangeFrom,
  strataOf,
  halfWidthsAt,
  precisionOver,
  proofRuleOf,
  statedVarianceRatio,
  termCorrelations,
} from "./layout/index.ts";
export type {
  Candidate,
  FoldChoice,
  Growth,
  Grown,
  HowAsked,
  Judgement,
  Layout,
  LayoutChoice,
  LayoutProgress,
  LayoutQuestion,
  Stake,
  Stratum,
  TermJudgement,
  ProofRule,
} from "./layout/index.ts";
export type { TermCorrelations } from "./layout/index.ts";

// Models: terms, fits, what follows from them.
export {
  bendIntervals,
  besideCusp,
  bestOfTwoStages,
  bestWithinReach,
  bootstrap,
  bootstrapInWorkers,
  compareLevels,
  crossValidate,
  equivalence,
  equivalencePower,
  equivalenceRuns,
  findTransform,
  fitCurve,
  fitFloor,
  fitJson,
  fitLinear,
  fitMixed,
  fitPowerLaw,
  fitRestricted,
  inertLimits,
  intercept,
  isInterval,
  isMixedFit,
  largestSetting,
  linesOrPowerLaw,
  main,
  meanOverMedian,
  mixedFitJson,
  ModelError,
  modelsWithinReach,
  observe,
  observeTable,
  passChance,
  permutationTest,
  permutationTestInWorkers,
  pathTable,
  power,
  proofOfRecipe,
  proofPlan,
  proofVerdict,
  recipes,
  ridgePath,
  robustFit,
  scaleByReadings,
  scatterFromReplicates,
  scatterFromResiduals,
  secondOpinion,
  secondOpinionOn,
  settingFor,
  squared,
  stationaryRegion,
  steepestPath,
  termLabel,
  termsOf,
  times,
  twoStageScreening,
  validateChoice,
} from "./model/index.ts";
export type {
  Bootstrap,
  ChoiceValidation,
  Choose,
  ChosenFrom,
  ChosenTerms,
  Coefficient,
  Comparison,
  CrossValidation,
  Effect,
  Equivalence,
  Fit,
  FloorFit,
  Heredity,
  Interval,
  MixedFit,
  MixedPrediction,
  ModelKind,
  ModelsWithinReach,
  Observations,
  Permutation,
  Prediction,
  ProofAsked,
  ProofPlan,
  Recipe,
  Recipes,
  Term,
  TwoStageScreening,
  Uncertain,
  VariancePart,
} from "./model/index.ts";

// Decide: several limits and responses at once.
export { desirability, jointRecipe, keptRegion, mostDesirable, nextPasses } from "./model/index.ts";
export { fitMethods, scatterBeside, type FitMethods, type ScatterBeside } from "./model/index.ts";
export { keptRegionMethod, nextPassesMethod, proofMethod, recipeMethods } from "./model/index.ts";
export type { JointRecipe, JointRecipeOptions, KeptRegion, NextPasses } from "./model/index.ts";
export { contrast, type Contrast, type EffectWithout, type LeftInResiduals } from "./model/index.ts";
export type { LevelsInResiduals, MostInfluential } from "./model/index.ts";
export { effectsWithoutRun, leftInResiduals, levelsLeftInResiduals, mostInfluential } from "./model/index.ts";

// What the data can and can't say.
export {
  fitRemarks,
  remarkMethod,
  remarks,
  ReviewError,
  separatingRuns,
  type Remark,
  whatNext,
} from "./review/index.ts";

// Publishing, and reading what another shop published.
export {
  chooseModel,
  dataPackage,
  extractData,
  FindingError,
  fitAsPlanned,
  publish,
  writeFinding,
} from "./finding/index.ts";
export type {
  AskedModel,
  Finding,
  FindingRecord,
  PlannedFit,
  PublishOptions,
  ReceivedFinding,
} from "./finding/index.ts";

// Figures.
export {
  comparisonFigure,
  effectFigure,
  equivalenceFigure,
  FigureError,
  floorFigure,
  halfNormalFigure,
  interactionFigure,
  choiceFigure,
  contourFigure,
  knownSliceFigure,
  layoutFigure,
  locationScatterFigure,
  movesWithFigure,
  normalQuantileFigure,
  orderFigure,
  orderStripFigure,
  palette,
  powerFigure,
  profileFigure,
  residualFigure,
  responseFigure,
  scatterShareFigure,
  shareKnownFigure,
  transformFigure,
  varianceShareFigure,
} from "./figure/index.ts";
export type { Figure, FigureTable } from "./figure/index.ts";

// Speeds, feeds, ideal finish, cautions.
export {
  cautions,
  CuttingError,
  cutoffForRa,
  cutoffForSpacing,
  dishFromTilt,
  endOfEdgeLife,
  faceMillApproach,
  feedOfLeastHeight,
  feedSpeed,
  finishGrades,
  gradeFor,
  idealHeight,
  idealRa,
  idealRq,
  largestFeedOnNoseArc,
  millingRemovalRate,
  passConditions,
  passTime,
  sharpCornerHeight,
  sharpCornerRa,
  smallestChipHeight,
  spindleSpeed,
  surfaceSpeed,
  taylorExponents,
  taylorLife,
  taylorLine,
  taylorSpeed,
  turningRemovalRate,
} from "./cutting/index.ts";

// Distributions, and chance from a written seed.
export {
  chiSquareQuantile,
  fQuantile,
  fTail,
  normalCdf,
  normalQuantile,
  seededRandom,
  tQuantile,
  tTail,
  tTwoSided,
} from "./numerics/index.ts";

// Quantities with units. (`times` above builds a term of a model; a quantity is multiplied by `multiplied`.)
export {
  add,
  compare,
  convert,
  dimensionOf,
  formatNumber,
  formatQuantity,
  inUnit,
  isUnit,
  parseNumber,
  parseQuantity,
  parseUnit,
  quantity,
  subtract,
  times as multiplied,
  unitIn,
  UnitError,
  valueIn,
} from "./units/index.ts";
export type { Dimension, DimensionOf, Quantity, UnitName, UnitSystem } from "./units/index.ts";
