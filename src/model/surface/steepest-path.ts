import { fUpperQuantile, seededRandom } from "../../numerics/index.ts";
import { listed } from "../../units/index.ts";
import { modelError } from "../error.ts";
import type { Fit, Prediction } from "../fit.ts";
import { percent, settingNumber, unitText } from "../words.ts";
import type { SecondDegree } from "./second-degree.ts";
import { settable, type Increments } from "./setting-steps.ts";
import { solvePositive } from "./solve-positive.ts";

export interface PathStep {
  readonly settings: Readonly<Record<string, number>>;
  readonly prediction: Prediction;
}

/** Where to go from the middle of what was cut, and how sure the way is. */
export interface SteepestPath {
  readonly aim: "smaller" | "larger";
  /** A unit direction in coded factors. */
  readonly direction: readonly number[];
  readonly factors: readonly string[];
  /** The factor that moves in whole steps; the others follow. */
  readonly lead: string;
  readonly steps: readonly PathStep[];
  /** Degrees by which the true way may differ; null where no error is left, 180 where no way can be ruled out. */
  readonly withinDegrees: number | null;
  readonly text: string;
}

export interface SteepestPathOptions {
  readonly aim: "smaller" | "larger";
  /** Default: the factor that moves most along the way. */
  readonly lead?: string;
  /** How far the lead moves a step, in its own unit. Default: a quarter of half its range. */
  readonly step?: number;
  /** Default 8. */
  readonly steps?: number;
  readonly increments?: Increments;
  readonly confidence?: number;
}

const rays = 4000;

/**
 * The path of steepest descent (or ascent) from the middle of what was cut: along it a response of first degree falls (or rises) fastest for steps
 * of equal coded length. Use it after a first trial that shows slopes and no bend, to choose the next passes; from the edge of what was cut on they are
 * extrapolations, and are marked so.
 *
 * Settings are rounded to `increments`, and predicted as rounded. `withinDegrees` is the widest angle of any direction that the slopes leave
 * possible: min over c of (b − c d)′ V⁻¹ (b − c d) ≤ (k − 1) F(confidence; k − 1, df) for a direction d. Sources: Box and Wilson 1951, J. Royal Statistical
 * Society B 13, 1–45; Box and Draper, *Empirical Model-Building and Response Surfaces* (the cone of directions). With squares or
 * products in the model the slope at the middle is taken: see `ridgePath`.
 *
 * Refuses a model without quantities, or of a degree above the second, and an unknown lead.
 */
export function steepestPath(fit: Fit, options: SteepestPathOptions): SteepestPath {
  const { aim, steps = 8, increments = {}, confidence = fit.confidence } = options;
  const { secondDegree: model } = fit;
  if (model === null)
    throw modelError(
      "a model of no first or second degree in quantities",
      "a fit with a slope in two or more quantities",
    );
  const names = model.factors.map(({ name }) => name);
  if (!Number.isInteger(steps) || steps < 1 || steps > 1000)
    throw modelError(`${steps} steps`, "a whole number from 1 to 1000");
  const length = Math.hypot(...model.gradient);
  if (!(length > 0)) throw modelError("slopes that are all zero", "a factor that does something");
  const sign = aim === "larger" ? 1 : -1;
  const direction = model.gradient.map((slope) => (sign * slope) / length);
  const strongest = direction.reduce(
    (best, share, i) => (Math.abs(share) > Math.abs(direction[best]) ? i : best),
    0,
  );
  const lead = options.lead === undefined ? strongest : names.indexOf(options.lead);
  if (lead < 0) throw modelError(`"${options.lead}" as the lead`, listed(names, "or"));
  if (direction[lead] === 0)
    throw modelError(`${names[lead]} as the lead, which doesn't move`, "a factor that does");
  const stride = strideOf(model, lead, options.step);
  const path = Array.from({ length: steps + 1 }, (_, k): PathStep => {
    const coded = direction.map((share) => (share * k * stride) / Math.abs(direction[lead]));
    const settings = settable(model.settings(coded), increments);
    return { settings, prediction: fit.predict(settings, { confidence }) };
  });
  const withinDegrees = angleOf(model, confidence);
  const result = { aim, direction, factors: names, lead: names[lead], steps: path, withinDegrees };
  return { ...result, text: sentence(fit, result, confidence) };
}

/** Coded steps of the lead: its own unit where a step is given (on a log scale, at the middle). */
function strideOf(model: SecondDegree, lead: number, step: number | undefined): number {
  if (step === undefined) return 0.25;
  if (!(step > 0 && Number.isFinite(step))) throw modelError(`a step of ${step}`, "a number above zero");
  const { name } = model.factors[lead];
  const middle = model.settings(model.factors.map(() => 0));
  return model.coded({ ...middle, [name]: middle[name] + step })[lead];
}

function angleOf({ gradient, covariance, df }: SecondDegree, confidence: number): number | null {
  const count = gradient.length;
  if (covariance === null) return null;
  if (count === 1) return 0;
  const own = covariance.slice(1, count + 1).map((row) => row.slice(1, count + 1));
  const limit = (count - 1) * fUpperQuantile(1 - confidence, count - 1, df);
  const weighed = solvePositive(own, gradient);
  const whole = dot(gradient, weighed);
  if (whole <= limit) return 180;
  const random = seededRandom(1951);
  const length = Math.hypot(...gradient);
  let widest = 0;
  for (let k = 0; k < rays; k++) {
    const side = Array.from({ length: count }, () => random.normal());
    // Turn from the estimate towards this side as far as chance allows.
    const across = dot(side, gradient) / length ** 2;
    const square = side.map((share, i) => share - across * gradient[i]);
    const size = Math.hypot(...square);
    const at = (angle: number) =>
      gradient.map((slope, i) => (Math.cos(angle) * slope) / length + (Math.sin(angle) * square[i]) / size);
    const possible = (angle: number) => {
      const d = at(angle);
      const c = dot(d, weighed);
      return c > 0 && whole - c ** 2 / dot(d, solvePositive(own, d)) <= limit;
    };
    if (!possible(widest + 1e-9)) continue;
    let low = widest;
    let high = Math.PI;
    for (let halving = 0; halving < 40; halving++) {
      const middle = (low + high) / 2;
      if (possible(middle)) low = middle;
      else high = middle;
    }
    widest = low;
  }
  return (180 * widest) / Math.PI;
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, i) => sum + value * b[i], 0);
}

function sentence(fit: Fit, path: Omit<SteepestPath, "text">, confidence: number): string {
  const [first, second] = path.steps;
  const unit = (name: string) => unitText(fit.factors.find((factor) => factor.name === name)?.unit ?? "");
  const moves = path.factors
    .map((name) => ({ name, by: second.settings[name] - first.settings[name] }))
    .filter(({ by }) => by !== 0)
    .map(
      ({ name, by }) =>
        `${name} by ${settingNumber(Number(Math.abs(by).toPrecision(3)))}${unit(name)} ${by > 0 ? "up" : "down"}`,
    );
  const way =
    moves.length === 0
      ? `The steps of the machine are too coarse for so short a step of ${path.lead}.`
      : `To make ${fit.response.name} ${path.aim}, move ${listed(moves)} at a time.`;
  const { withinDegrees } = path;
  const sure =
    withinDegrees === null
      ? "How sure the way is can't be told: no run is left to show the scatter."
      : withinDegrees >= 90
        ? `The slopes are too uncertain to rule out any way with ${percent(confidence)} confidence.`
        : path.factors.length === 1
          ? ""
          : `The true way lies within ${Math.ceil(withinDegrees)}° of this one, with ${percent(confidence)} confidence.`;
  return `${way}${sure === "" ? "" : ` ${sure}`}`;
}
