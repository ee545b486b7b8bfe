import { normalQuantile, tQuantile, type NonlinearFit } from "../../numerics/index.ts";
import type { Setting } from "../../trial/index.ts";
import type { Observations, ObservedFactor } from "../observations.ts";
import { settingNumber, unitText } from "../words.ts";
import { floorModel, floorOf, type LawPart } from "./floor-model.ts";
import { searchFloor, type FloorData } from "./search-floor.ts";

/** Passes that would tell a floor from a smaller exponent. */
export interface SeparatingPasses {
  readonly settings: Readonly<Record<string, Setting>>;
  /** How many, for 4 chances in 5 to tell the two apart with the fit's confidence. */
  readonly passes: number;
  /** The response there without a floor, and with it. */
  readonly expected: { readonly without: number; readonly withFloor: number };
  /** The floor that is held against none, and the exponent of the first quantity that goes with it. */
  readonly floor: number;
  readonly exponent: number;
  /** True where the setting lies below what was cut. */
  readonly beyond: boolean;
  readonly text: string;
}

const chance = 0.8;
/** More passes than these are no advice. */
const mostPasses = 200;

interface Asked {
  readonly data: FloorData;
  readonly parts: readonly LawPart[];
  readonly observations: Observations;
  readonly unit: number;
  readonly confidence: number;
  readonly fit: NonlinearFit;
  /** The highest share of a floor that the runs allow; null where they set no bound. */
  readonly highest: number | null;
}

/**
 * Where a power law without a floor and one with it differ most for the scatter. The floor is the one that goes with the exponent of 2 of a nose-radius cusp where
 * the runs allow that, else the highest that they allow. Looked at are the ends of the range of the first quantity, and down to half of its low end, as the machine
 * can set them (the factors' increments; without one to three significant digits), each judged as it would be set. The
 * passes are those of a comparison of two known values, ((z(confidence) + z(0.8)) · scatter / difference of logarithms)², rounded up to at least two; that the
 * curves themselves are uncertain is left out, so that more may be needed. Null where the two say nearly the same everywhere.
 */
export function separatingPasses(given: Asked): SeparatingPasses | null {
  const { data, parts, observations, unit, confidence, fit } = given;
  const lead = parts.findIndex(({ level }) => level === undefined);
  const factor = observations.factors.find(({ name }) => name === parts[lead].factor)!;
  const bare = searchFloor(data, { fixed: [0], at: new Map([[0, 0]]) });
  const other = rivalOf(given, lead);
  if (bare === null || other === null || !(other.parameters[0] > 0)) return null;
  const scatter = Math.sqrt(fit.residualSumOfSquares / fit.df);
  const middle = Object.fromEntries(
    observations.factors.map(({ name, kind, levels, low, high }) => [
      name,
      kind === "quantity" ? Math.sqrt(low * high) : levels[0],
    ]),
  );
  const set = settableOn(observations.factors);
  const model = (at: Float64Array, settings: Readonly<Record<string, Setting>>): number => {
    const value = new Float64Array(1);
    floorModel(
      data.form,
      parts.map(({ of }) => Float64Array.of(of(settings))),
      1,
    ).evaluate(at, value, new Float64Array(parts.length + 2));
    return value[0];
  };
  const places = [factor.low / 2, factor.low * Math.SQRT1_2, factor.low, factor.high];
  const candidates = places.flatMap((setting) => {
    const settings = set({ ...middle, [factor.name]: setting });
    // Rounded to nothing, it can't be cut.
    if (Object.values(settings).some((value) => typeof value === "number" && !(value > 0))) return [];
    const [without, withFloor] = [bare, other].map(({ parameters }) => model(parameters, settings));
    return [{ settings, without, withFloor, difference: Math.abs(without - withFloor) }];
  });
  if (candidates.length === 0) return null;
  const reach = (normalQuantile((1 + confidence) / 2) + normalQuantile(chance)) * scatter;
  const needed = ({ difference }: (typeof candidates)[number]) =>
    difference > 0 ? Math.max(2, Math.ceil((reach / difference) ** 2)) : Infinity;
  // The setting nearest to what was cut that needs few passes; going further down must save half of them.
  const best = candidates
    .slice()
    .reverse()
    .reduce((chosen, next) => (needed(next) <= needed(chosen) / 2 ? next : chosen));
  const passes = needed(best);
  if (passes > mostPasses) return null;
  const { settings } = best;
  const beyond = Number(settings[factor.name]) < factor.low;
  const expected = { without: unit * Math.exp(best.without), withFloor: unit * Math.exp(best.withFloor) };
  const floor = floorOf(data.form, other.parameters[0], unit);
  const { unit: responseUnit, name } = observations.response;
  const size = (value: number) => `${Number(value.toPrecision(2))}${unitText(responseUnit)}`;
  return {
    settings,
    passes,
    expected,
    floor,
    exponent: other.parameters[lead + 2],
    beyond,
    text: `${passes} passes at ${factor.name} ${settingNumber(settings[factor.name])}${unitText(factor.unit)}${beyond ? " (below what was cut)" : ""} would tell: without a floor ${name} should be near ${size(expected.without)} there, with a floor of ${size(floor)} (exponent ${settingNumber(Number(other.parameters[lead + 2].toPrecision(2)))}) near ${size(expected.withFloor)}.`,
  };
}

/** Settings as the machine takes them: on the factor's increment, without one to three significant digits. */
function settableOn(
  factors: readonly ObservedFactor[],
): (settings: Readonly<Record<string, Setting>>) => Readonly<Record<string, Setting>> {
  const increments = new Map(factors.map(({ name, increment }) => [name, increment]));
  return (settings) =>
    Object.fromEntries(
      Object.entries(settings).map(([name, value]): [string, Setting] => {
        if (typeof value === "string") return [name, value];
        const step = increments.get(name);
        if (step === undefined) return [name, Number(value.toPrecision(3))];
        // Twelve digits, so that 3 × 0.01 is 0.03.
        return [name, Number((Math.round(value / step) * step).toPrecision(12))];
      }),
    );
}

/** The fit with a floor that is held against none: the cusp's exponent where the runs allow it, else the highest floor. */
function rivalOf({ data, fit, highest, confidence }: Asked, lead: number): NonlinearFit | null {
  const allowed = fit.residualSumOfSquares * (1 + tQuantile((1 + confidence) / 2, fit.df) ** 2 / fit.df);
  const cusp = searchFloor(data, { fixed: [lead + 2], at: new Map([[lead + 2, 2]]) });
  if (cusp !== null && cusp.residualSumOfSquares <= allowed) return cusp;
  return highest === null ? null : searchFloor(data, { fixed: [0], at: new Map([[0, highest]]) });
}
