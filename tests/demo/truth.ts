/**
 * The true values behind the invented trials. Nothing here was measured: a surface that obeys these numbers exactly is cut and read
 * with seeded random scatter, so that a test can ask whether the intervals of an analysis hold them.
 */
export interface SealFaceTruth {
  /** Ra in µm at feed 0.14 mm/rev, 1700 rev/min, fresh edge, dry. */
  readonly raUm: number;
  readonly feedExponent: number;
  readonly speedExponent: number;
  /** Ra with a used edge over Ra with a fresh one. */
  readonly usedEdgeRatio: number;
  /** Ra with mist over Ra dry. */
  readonly mistRatio: number;
  /** What wear multiplies Ra by from one run to the next. */
  readonly wearRatioPerRun: number;
  /** Standard deviations of natural logarithms. */
  readonly runScatter: number;
  readonly spotScatter: number;
  readonly repeatScatter: number;
}

export const factorialTruth: SealFaceTruth = {
  raUm: 0.55,
  feedExponent: 1.2,
  speedExponent: -0.15,
  usedEdgeRatio: 1.2,
  mistRatio: 1,
  wearRatioPerRun: 1,
  runScatter: 0.05,
  spotScatter: 0.04,
  repeatScatter: 0.02,
};

export const sweepTruth: SealFaceTruth = {
  ...factorialTruth,
  mistRatio: 0.92,
  wearRatioPerRun: 1.006,
};

export interface InventedSettings {
  readonly feed: number;
  readonly speed: number;
  readonly edge: string;
  readonly coolant?: string;
}

/** True Ra in µm of a run, before any scatter. */
export function trueRaUm(truth: SealFaceTruth, settings: InventedSettings, run: number): number {
  return (
    truth.raUm *
    (settings.feed / 0.14) ** truth.feedExponent *
    (settings.speed / 1700) ** truth.speedExponent *
    (settings.edge === "used" ? truth.usedEdgeRatio : 1) *
    (settings.coolant === "mist" ? truth.mistRatio : 1) *
    truth.wearRatioPerRun ** (run - 1)
  );
}
