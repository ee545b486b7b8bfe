import { brentRoot, fUpperQuantile, seededRandom } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import { isMixedFit } from "../mixed/is-mixed-fit.ts";
import { once } from "../once.ts";
import { percent, settingNumber, unitText } from "../words.ts";
import { solvePositive } from "./solve-positive.ts";
import { placesOf, type SecondDegree } from "./second-degree.ts";

/** Where the level point of a surface may lie. */
export interface StationaryRegion {
  readonly confidence: number;
  /** Whether a setting can't be ruled out as the level point. Factors that are left out stand at their middle. */
  readonly contains: (settings: Readonly<Record<string, number>>) => boolean;
  /** False where the region runs on without end: the runs don't show a level point in some direction. */
  readonly bounded: boolean;
  /**
   * The lowest and highest setting of each factor in the part that holds the estimate, cut off at three half-ranges from the middle, and at 0 where a factor was cut above
   * 0 only.
   */
  readonly extent: readonly {
    readonly factor: string;
    readonly unit: string;
    readonly low: number;
    readonly high: number;
    /** True where it was cut off. */
    readonly beyond: boolean;
  }[];
  /** Share of the settings between the ends of every factor that can't be ruled out. */
  readonly shareOfRange: number;
  readonly text: string;
}

/** Beyond so many half-ranges from the middle nothing is looked for. */
const farthest = 3;
const directions = 720;
const points = 4000;

/**
 * The confidence region of a surface's level point: all settings where the fitted slope differs from zero by no more than chance allows,
 * slope′ [covariance of the slope]⁻¹ slope ≤ k F(confidence; k, df) for k factors. It holds the true level point with exactly the stated confidence, with random sources
 * more often (`text` says how much), but it need be neither an ellipse nor bounded. Source: Box and Hunter 1954, Biometrika 41, 190–199; Myers, Montgomery and Anderson-Cook, *Response Surface Methodology*.
 *
 * The extent is searched along rays from the estimate (all of them in two factors; drawn with a fixed seed beyond), so that it may be short by about 1 % of
 * the range. Refuses a fit without a surface, on a ridge, or without error left.
 */
export function stationaryRegion(fit: Fit, options: { readonly confidence?: number } = {}): StationaryRegion {
  const { confidence = fit.confidence } = options;
  const { surface, secondDegree } = fit;
  if (surface === null || secondDegree === null || surface.stationary === null)
    throw modelError("a surface without a level point", 'a fit with every square, such as model: "surface"');
  const { covariance, df, factors } = secondDegree;
  if (covariance === null)
    throw modelError(`a region without scatter (${fit.noInterval})`, "runs left over", "Cut replicates.");
  const count = factors.length;
  const limit = count * fUpperQuantile(1 - confidence, count, df);
  const excess = (coded: readonly number[]): number => slopeSize(secondDegree, coded) - limit;
  const centre = secondDegree.coded(surface.stationary);
  const middle = secondDegree.settings(factors.map(() => 0));
  // Membership is cheap; the rest is searched for and made when it is read.
  const searched = once(() => searchedRegion(secondDegree, { excess, limit, centre }));
  return {
    confidence,
    contains: (settings) => excess(secondDegree.coded({ ...middle, ...settings })) <= 0,
    get bounded() {
      return searched().bounded;
    },
    get extent() {
      return searched().extent;
    },
    get shareOfRange() {
      return searched().shareOfRange;
    },
    get text() {
      return sentence(fit.response.name, confidence, searched()) + (isMixedFit(fit) ? ofSplitPlots : "");
    },
  };
}

/** By the committed table of coverage. */
const ofSplitPlots =
  " With random sources in the fit it is larger than need be: 95 % regions held the level point in 97.4 % of 10,000 drawn split plots of 32 runs in 8 set-ups, and in 99.2 % where set-ups added nothing.";

type Searched = Pick<StationaryRegion, "bounded" | "extent" | "shareOfRange">;

function searchedRegion(
  model: SecondDegree,
  given: {
    readonly excess: (coded: readonly number[]) => number;
    readonly limit: number;
    readonly centre: readonly number[];
  },
): Searched {
  const { factors } = model;
  const { excess, limit, centre } = given;
  const random = seededRandom(1954);
  let held = 0;
  for (let k = 0; k < points; k++) if (excess(factors.map(() => 2 * random.next() - 1)) <= 0) held++;
  const extent = extentOf(excess, centre, factors.length);
  return {
    bounded: isBounded(model, limit),
    shareOfRange: held / points,
    extent: factors.map(({ name, unit, low: lowest }, i) => {
      const at = (value: number) => model.settings(factors.map((_, j) => (i === j ? value : 0)))[name];
      const [low, high] = extent[i];
      const beyond = low <= -farthest || high >= farthest;
      const least = at(low);
      return { factor: name, unit, low: lowest > 0 ? Math.max(0, least) : least, high: at(high), beyond };
    }),
  };
}

/** Slope at a coded point, weighed by the inverse of its own covariance. */
function slopeSize({ gradient, bend, covariance, factors }: SecondDegree, coded: readonly number[]): number {
  const count = factors.length;
  const slope = gradient.map((g, i) => g + 2 * bend[i].reduce((sum, b, j) => sum + b * coded[j], 0));
  return weighed(slope, covarianceOfSlope(covariance!, coded, count, { constant: 1 }));
}

/** Covariance of gradient·constant + 2 B x. */
function covarianceOfSlope(
  covariance: readonly (readonly number[])[],
  coded: readonly number[],
  count: number,
  { constant }: { readonly constant: number },
): readonly (readonly number[])[] {
  const places = placesOf(count);
  const weights = Array.from({ length: count }, (_, row) =>
    places.flatMap(([i, j], k): readonly (readonly [number, number])[] => {
      if (i === undefined) return [];
      if (j === undefined) return i === row && constant !== 0 ? [[k, constant]] : [];
      if (i === j) return i === row ? [[k, 2 * coded[i]]] : [];
      return i === row ? [[k, 2 * coded[j]]] : j === row ? [[k, 2 * coded[i]]] : [];
    }),
  );
  return weights.map((a) =>
    weights.map((b) => {
      let sum = 0;
      for (const [i, left] of a) for (const [j, right] of b) sum += left * right * covariance[i][j];
      return sum;
    }),
  );
}

function weighed(vector: readonly number[], matrix: readonly (readonly number[])[]): number {
  const solved = solvePositive(matrix, vector);
  return vector.reduce((sum, value, i) => sum + value * solved[i], 0);
}

/** Far out only the bend matters: the region is bounded where the bend differs from zero in every direction. */
function isBounded(model: SecondDegree, limit: number): boolean {
  return rays(model.factors.length).every((ray) => {
    const slope = model.bend.map((row) => 2 * row.reduce((sum, b, j) => sum + b * ray[j], 0));
    const covariance = covarianceOfSlope(model.covariance!, ray, ray.length, { constant: 0 });
    return weighed(slope, covariance) > limit;
  });
}

function extentOf(
  excess: (coded: readonly number[]) => number,
  centre: readonly number[],
  count: number,
): readonly (readonly [number, number])[] {
  const low = centre.slice();
  const high = centre.slice();
  for (const ray of rays(count)) {
    const reach = reachAlong(excess, centre, ray);
    ray.forEach((share, i) => {
      const at = centre[i] + reach * share;
      low[i] = Math.max(-farthest, Math.min(low[i], at));
      high[i] = Math.min(farthest, Math.max(high[i], at));
    });
  }
  return low.map((value, i) => [value, high[i]] as const);
}

/** How far a ray from the estimate stays in the region, up to the box that is looked at. */
function reachAlong(
  excess: (coded: readonly number[]) => number,
  centre: readonly number[],
  ray: readonly number[],
): number {
  const along = (distance: number) => excess(centre.map((at, i) => at + distance * ray[i]));
  const most = Math.max(
    0,
    Math.min(
      ...ray.map((share, i) =>
        share === 0 ? Infinity : ((share > 0 ? farthest : -farthest) - centre[i]) / share,
      ),
    ),
  );
  const steps = 40;
  let inside = 0;
  for (let k = 1; k <= steps; k++) {
    const next = (most * k) / steps;
    if (along(next) > 0) return brentRoot(along, inside, next, { tolerance: 1e-6 });
    inside = next;
  }
  return most;
}

/** Directions: evenly round in two factors, drawn with a fixed seed (and along each factor) beyond. */
function rays(count: number): readonly (readonly number[])[] {
  if (count === 1) return [[1], [-1]];
  if (count === 2)
    return Array.from({ length: directions }, (_, k) => {
      const angle = (2 * Math.PI * k) / directions;
      return [Math.cos(angle), Math.sin(angle)];
    });
  const random = seededRandom(1954);
  const drawn = Array.from({ length: directions * (count - 1) }, () => {
    const ray = Array.from({ length: count }, () => random.normal());
    const length = Math.hypot(...ray);
    return ray.map((share) => share / length);
  });
  const along = Array.from({ length: 2 * count }, (_, k) =>
    Array.from({ length: count }, (_unused, i) => (i === k >> 1 ? (k % 2 === 0 ? 1 : -1) : 0)),
  );
  return [...along, ...drawn];
}

function sentence(name: string, confidence: number, { bounded, extent, shareOfRange }: Searched): string {
  const share = `${shareOfRange < 0.005 ? "Less than 1 %" : `${Math.round(100 * shareOfRange)} %`} of the range that was cut can't be ruled out.`;
  if (!bounded)
    return `Where ${name} is level is not pinned down: with ${percent(confidence)} confidence the level point may lie any distance away. ${share}`;
  const ends = extent
    .map(
      ({ factor, unit, low, high, beyond }) =>
        `${factor} ${beyond ? "beyond what was cut" : `${low === 0 ? "up to " : `${settingNumber(Number(low.toPrecision(3)))} to `}${settingNumber(Number(high.toPrecision(3)))}${unitText(unit)}`}`,
    )
    .join(", ");
  return `With ${percent(confidence)} confidence the level point of ${name} lies within ${ends}. ${share}`;
}
