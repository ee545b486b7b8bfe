export type { CommonOptions } from "./common-options.ts";
export { LayoutError, LimitError, type LimitFinding } from "./error.ts";
export type { Judgement, TermJudgement } from "./judgement.ts";
export type { Anchor, Layout, LayoutKind, StandardLayout, StandardRun } from "./layout.ts";
export {
  fewestWholePlots,
  type WholePlotPlan,
  type WholePlotProposal,
  type WholePlotWish,
} from "./split-plot/fewest-whole-plots.ts";
export { statedVarianceRatio } from "./split-plot/set-up-scatter.ts";
export { strataOf, type Stratum } from "./split-plot/strata.ts";
export { kinds } from "./kinds.ts";
export { layOut, type LayoutRequest } from "./lay-out.ts";
export { layoutOfRuns } from "./layout-of-runs.ts";
export { layOutWithProgress, type ProgressOptions } from "./lay-out-with-progress.ts";
export type { LayoutProgress } from "./optimal/progress.ts";
export { judge, type JudgeOptions } from "./judge/judge.ts";
export { errorStrata, type ErrorStrata, type ErrorStratum, type TermTest } from "./judge/error-strata.ts";
export type { TermStratum } from "./judge/error-df.ts";
export type { BiasEntry } from "./judge/bias.ts";
export type { Efficiency } from "./judge/efficiency.ts";
export type { RunLoss } from "./judge/run-loss.ts";
export type { SetJudgement, SetRequest } from "./judge/set-power.ts";
export { minutesBehind, minutesInCut, type MinutesInCut } from "./minutes-in-cut.ts";
export { correlationWithOrder } from "./correlation-with-order.ts";
export { judgementJson, layoutJson } from "./layout-json.ts";
export { checkLimits, type LimitCheck } from "./limits/check-limits.ts";
export { costSoFar, type CostSoFar } from "./limits/cost-so-far.ts";
export { planCost, type BudgetEnd, type PlanCost, type RunCost } from "./limits/plan-cost.ts";
export { aliasMatrix, type AliasEntry } from "./judge/alias-matrix.ts";
export { termCorrelations, type MappedTerm, type TermCorrelations } from "./judge/term-correlations.ts";
export { halfWidthsAt, type HalfWidthOptions } from "./judge/variance-at.ts";
export { precisionOver, type Precision } from "./judge/precision.ts";
export type { LayoutContext, Predicate } from "./layout.ts";
export { grow } from "./growing/grow.ts";
export { proofRuleOf, type ProofRule } from "./growing/proof.ts";
export { foldChoices, type FoldChoice } from "./growing/fold.ts";
export type { Growth, GrowthJudgement, Grown } from "./growing/growth.ts";
export { readHow, ways, type How, type HowAsked } from "./growing/how.ts";
export { chooseLayout } from "./choosing/choose-layout.ts";
export { sigmaRangeFrom, USUAL_SCATTER } from "./choosing/sigma-range.ts";
export { stakes, type LayoutQuestion, type Stake } from "./choosing/question.ts";
export type {
  Answers,
  Candidate,
  CandidateCost,
  CandidateFigures,
  Enough,
  GroupFigures,
  LayoutChoice,
  Leaning,
  LesserQuestion,
  RefusedCandidate,
  SigmaAdvice,
  TwoStages,
} from "./choosing/choice.ts";
