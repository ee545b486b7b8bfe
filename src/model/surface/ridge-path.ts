import { brentRoot, symmetricEigen } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import type { Fit, Prediction } from "../fit.ts";
import { settable, type Increments } from "./setting-steps.ts";

/** The best settings at one distance from the middle. */
export interface RidgePoint {
  /** In coded factors: 1 is from the middle to the end of a factor's range. */
  readonly radius: number;
  readonly coded: readonly number[];
  /** As a machine can set them. */
  readonly settings: Readonly<Record<string, number>>;
  readonly prediction: Prediction;
}

/**
 * Ridge analysis: the settings with the lowest (or highest) fitted response at each distance from the middle of what was cut. Use it
 * where the level point lies outside, is a saddle, or is a ridge, and the question is which way to go and how far it pays.
 *
 * On a sphere of radius R the best point solves (B − μ I) x = −g/2 with μ above the largest eigenvalue of the bend B for a maximum, below the smallest for a
 * minimum. Sources: Hoerl 1959, Chemical Engineering Progress 55, 69–78; Draper 1963, Technometrics 5, 469–479. Predictions are made at the settings as rounded
 * to `increments`, with their own intervals, and say what lies outside what was cut. Refuses a fit without a surface.
 */
export function ridgePath(
  fit: Fit,
  options: {
    readonly aim: "smaller" | "larger";
    /** Default: 0, 0.1 … 1. */
    readonly radii?: readonly number[];
    readonly increments?: Increments;
    readonly confidence?: number;
  },
): readonly RidgePoint[] {
  const { aim, radii = Array.from({ length: 11 }, (_, k) => k / 10), increments = {} } = options;
  const { secondDegree, confidence: own } = fit;
  const { confidence = own } = options;
  if (secondDegree === null || fit.surface === null)
    throw modelError(
      "a fit without a surface of second degree",
      'one with every square, such as model: "surface"',
    );
  // The lowest of a response is the highest of its opposite.
  const sign = aim === "larger" ? 1 : -1;
  const gradient = secondDegree.gradient.map((value) => sign * value);
  const { values, vectors } = symmetricEigen(
    secondDegree.bend.map((row) => row.map((value) => sign * value)),
  );
  const along = vectors.map((axis) => axis.reduce((sum, entry, i) => sum + entry * gradient[i], 0));
  return radii.map((radius) => {
    if (!(radius >= 0 && Number.isFinite(radius)))
      throw modelError(`a radius of ${radius}`, "a number from 0, in coded steps");
    const parts = onSphere(values, along, radius);
    const coded = gradient.map((_, i) => vectors.reduce((sum, axis, a) => sum + axis[i] * parts[a], 0));
    const settings = settable(secondDegree.settings(coded), increments);
    return { radius, coded, settings, prediction: fit.predict(settings, { confidence }) };
  });
}

/** The highest point of a sphere, by its parts along the eigenvectors (largest eigenvalue first). */
function onSphere(values: readonly number[], along: readonly number[], radius: number): readonly number[] {
  if (radius === 0) return along.map(() => 0);
  const scale = Math.max(...values.map(Math.abs), ...along.map(Math.abs));
  if (scale === 0) return along.map(() => 0);
  const partsAt = (above: number) => along.map((a, k) => a / (2 * (values[0] - values[k] + above)));
  const size = (parts: readonly number[]) => Math.hypot(...parts);
  const least = 1e-12 * scale;
  const nearest = partsAt(least);
  if (size(nearest) < radius) {
    // The gradient has no part along the steepest axis: the rest of the radius is gone along it, either way being as good.
    const others = nearest.map((part, k) => (k === 0 ? 0 : part));
    const rest = Math.sqrt(Math.max(0, radius ** 2 - size(others) ** 2));
    return others.map((part, k) => (k === 0 ? (along[0] < 0 ? -rest : rest) : part));
  }
  // |x| falls from there to below the radius once above = |gradient| / (2 radius).
  const most = size(along) / (2 * radius) + scale;
  const root = brentRoot(
    (above) => Math.log(size(partsAt(Math.exp(above))) / radius),
    Math.log(least),
    Math.log(most),
    {
      tolerance: 1e-13,
    },
  );
  return partsAt(Math.exp(root));
}
