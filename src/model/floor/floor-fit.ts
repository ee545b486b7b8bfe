import type { Setting } from "../../trial/index.ts";
import type { ChangeBetween } from "../contrast/fitted-change.ts";
import type { ParameterProfile } from "../curve/profile-trace.ts";
import type { Uncertain } from "../fit.ts";
import type { Observations } from "../observations.ts";
import type { FloorForm } from "./floor-model.ts";
import type { FloorPrediction } from "./predict-floor.ts";
import type { SeparatingPasses } from "./separating-passes.ts";
import type { WithoutFloor } from "./without-floor.ts";

/** Finish with a floor that no smaller feed gets below. */
export interface FloorFit {
  readonly kind: "floor";
  readonly form: FloorForm;
  /** The law as it is written: "Ra² = floor² + (C · feed^a)²". */
  readonly law: string;
  readonly response: { readonly name: string; readonly unit: string };
  readonly confidence: number;
  readonly converged: boolean;
  /** In the response's unit, by profile likelihood; from 0 where no floor can't be ruled out. */
  readonly floor: Uncertain;
  /** C of the law: the marks alone, in the response's unit, with every quantity at 1 of its own unit and each category at its first level; most often far from what was cut. */
  readonly coefficient: Uncertain;
  readonly exponents: readonly { readonly factor: string; readonly value: Uncertain }[];
  /** Each level of a category against the first, as a ratio of the marks above the floor. */
  readonly levels: readonly { readonly factor: string; readonly level: string; readonly ratio: Uncertain }[];
  /** Of natural logarithms: 0.1 is about 10 %. */
  readonly residualSd: number | null;
  readonly residualDf: number;
  /** The runs behind it; each value is the mean of natural logarithms. */
  readonly observations: Observations;
  /** How the fit worsens away from the floor; null where no interval of it has an end. */
  readonly profile: () => ParameterProfile | null;
  /** The same runs by a power law without a floor, beside it. */
  readonly without: WithoutFloor | null;
  /** What can be told: a floor beyond doubt, or a floor and a smaller exponent that stand for one another. */
  readonly tells: "floor" | "either" | "nothing";
  /** The passes that would tell them apart; null where they are told, or can't be. */
  readonly separating: SeparatingPasses | null;
  readonly sentences: readonly string[];
  /** The median response and a single run, on the response's own scale. */
  readonly predict: (at: Readonly<Record<string, Setting>>) => FloorPrediction;
  /** How far the logarithm of the median goes from one place to another; told in words by `contrast`. Every factor must be given. */
  readonly change: ChangeBetween;
}
