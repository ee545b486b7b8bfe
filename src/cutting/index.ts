// Speeds, feeds, pass times, ideal finish, gauge settings and cautions of a cutting trial.
export { feedSpeed, spindleSpeed, surfaceSpeed } from "./speed.ts";
export type { Feed } from "./speed.ts";
export { millingRemovalRate, turningRemovalRate } from "./removal-rate.ts";
export { faceMillApproach, passTime } from "./pass-time.ts";

export { idealHeight, idealRa, idealRq } from "./ideal-finish.ts";
export { largestFeedOnNoseArc } from "./nose-arc.ts";
export type { NoseOptions } from "./nose-arc.ts";
export { sharpCornerHeight, sharpCornerRa } from "./sharp-corner.ts";
export type { SharpCorner } from "./sharp-corner.ts";
export { feedOfLeastHeight, smallestChipHeight } from "./smallest-chip.ts";
export type { SmallestChip } from "./smallest-chip.ts";
export { wiperNote } from "./wiper.ts";
export { dishFromTilt } from "./dish.ts";

export { finishGrades, gradeFor } from "./finish-grades.ts";
export type { FinishGrade } from "./finish-grades.ts";
export { cutoffForRa, cutoffForSpacing, cutoffRemark } from "./cutoff.ts";
export type { CutoffAdvice, CutoffAnswer } from "./cutoff.ts";
export { endOfEdgeLife, taylorExponents, taylorLife, taylorLine, taylorSpeed } from "./tool-life.ts";
export type { TaylorLine } from "./tool-life.ts";

export { cautions } from "./cautions.ts";
export { passConditions, passConditionsOf } from "./pass-conditions.ts";
export type { PassConditions } from "./pass-conditions.ts";
export { SPEED_SLACK, speedLimits } from "./speed-limits.ts";
export type { SpeedLimit } from "./speed-limits.ts";
export { CuttingError } from "./error.ts";
