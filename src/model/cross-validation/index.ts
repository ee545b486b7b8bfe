export { crossValidate, type CrossValidation } from "./cross-validate.ts";
export { leftOutBeside, leftOutSentence } from "./left-out-words.ts";
export type { FoldOptions } from "./folds.ts";
export type { LeftOutRow } from "./predictive-scatter.ts";
export { validateChoice, validateChoiceInSteps } from "./validate-choice.ts";
export type { ChoiceValidation, Choose, ValidateChoiceOptions } from "./validate-choice.ts";
export { validateTwoStages } from "./validate-two-stages.ts";
export { bestOfTwoStages, bestWithinReach, linesOrPowerLaw, scaleByReadings } from "./ways-to-choose.ts";
