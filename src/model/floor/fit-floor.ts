import { leastSquares, tQuantile } from "../../numerics/index.ts";
import { listed } from "../../units/index.ts";
import type { Setting, Trial } from "../../trial/index.ts";
import { untoldChange, type ChangeBetween } from "../contrast/fitted-change.ts";
import { profileInterval, type ProfileInterval } from "../curve/profile-interval.ts";
import type { ParameterProfile } from "../curve/profile-trace.ts";
import { modelError } from "../error.ts";
import type { Uncertain } from "../fit.ts";
import { fitInput, type FitInput, type FitOptions } from "../fit-options.ts";
import type { Observations } from "../observations.ts";
import { once } from "../once.ts";
import { interval, pText, percent, rounded, unitText, withReason } from "../words.ts";
import { floorModel, floorOf, lawParts, type FloorForm, type LawPart } from "./floor-model.ts";
import { floorProfile, type Found } from "./floor-profile.ts";
import { floorChange } from "./floor-change.ts";
import { floorPredictor, type FloorPrediction } from "./predict-floor.ts";
import { searchFloor, type FloorData } from "./search-floor.ts";
import { separatingPasses, type SeparatingPasses } from "./separating-passes.ts";
import { withoutFloor, type WithoutFloor } from "./without-floor.ts";

export interface FloorOptions extends Pick<FitOptions, "response" | "confidence" | "weights"> {
  /** Default "quadrature": floor and feed marks are unrelated heights, whose squares add. */
  readonly form?: FloorForm;
  /** Default: all of the trial's or table's. */
  readonly factors?: readonly string[];
}

/** Finish with a floor that no smaller feed gets below. */
export interface FloorFit {
  readonly kind: "floor";
  readonly form: FloorForm;
  readonly response: { readonly name: string; readonly unit: string };
  readonly confidence: number;
  readonly converged: boolean;
  /** In the response's unit, by profile likelihood; from 0 where no floor can't be ruled out. */
  readonly floor: Uncertain;
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

/**
 * Fits finish with a floor: Ra² = floor² + (C · feed^a · …)², or Ra = floor + C · feed^a · ….
 *
 * Use it where finish stops improving at small feeds: run-out, built-up edge, the smallest chip (Brammertz 1961) and the gauge itself leave a height that no
 * feed gets below. Fitted on logarithms, because scatter grows with size. The floor and the exponents have profile-likelihood intervals (Bates and Watts
 * 1988, section 6.1); the power law without a floor stands beside, with the F test between them. Where both fit, the answer says so, with the exponents of each
 * and the passes that would tell them apart.
 *
 * Blocks are not fitted. Refused: readings or settings of zero or less, fewer runs than parameters, no quantity, factors that never moved. A search that doesn't
 * settle is an answer (`converged` false) with its reason.
 *
 * Example: feeds 0.05, 0.1, 0.2 and 0.4 mm/rev twice each, Ra² = 0.3² + (25 feed²)² without scatter, give the floor 0.3 µm and the exponent 2.
 */
export function fitFloor(source: Trial | Observations, options: FloorOptions = {}): FloorFit {
  const { form = "quadrature", factors } = options;
  const input = fitInput(source, { ...options, log: true, block: "ignore" });
  const observations = chosen(input.observations, factors);
  const parts = lawParts(observations.factors);
  const data = dataOf(input, observations, parts, form);
  const { response: values } = data;
  const unit = Math.exp(input.response.reduce((sum, value) => sum + value, 0) / input.response.length);
  if (values.length <= parts.length + 2)
    throw modelError(
      `${values.length} runs for a floor, a constant and ${parts.length} exponents or levels`,
      `more than ${parts.length + 2} runs`,
      "Cut more settings, or leave factors out.",
    );
  const fit = searchFloor(data);
  const plain = withoutFloor(data, parts, input.confidence, fit, unit);
  if (fit === null) return unsettled(form, input, plain);
  return told({ fit, form, input, observations, parts, data, unit, plain });
}

/** The runs with the values that were fitted, whether they were observed on logarithms or not. */
function onLogarithms(observations: Observations, response: Float64Array): Observations {
  return {
    ...observations,
    logScale: true,
    rows: observations.rows.map((row, i) => ({ ...row, value: response[i] })),
  };
}

function chosen(observations: Observations, names: readonly string[] | undefined): Observations {
  const known = observations.factors.map(({ name }) => name);
  const unknown = (names ?? []).filter((name) => !known.includes(name));
  if (unknown.length > 0)
    throw modelError(`${listed(unknown.map((name) => `"${name}"`))} as a factor`, listed(known, "or"));
  const factors = observations.factors.filter(({ name }) => names === undefined || names.includes(name));
  if (!factors.some(({ kind }) => kind === "quantity"))
    throw modelError("no quantity among the factors", "one at least, such as the feed");
  return { ...observations, factors };
}

function dataOf(
  input: FitInput,
  { rows, factors }: Observations,
  parts: readonly LawPart[],
  form: FloorForm,
): FloorData {
  for (const { name, kind } of factors) {
    if (kind !== "quantity") continue;
    const low = rows.find(({ settings }) => !(Number(settings[name]) > 0));
    if (low !== undefined)
      throw modelError(`run ${low.run}: ${name} ${String(low.settings[name])}`, "a setting above zero");
  }
  const columns = parts.map(({ of }) => Float64Array.from(rows, ({ settings }) => of(settings)));
  parts.forEach(({ factor, level }, k) => {
    if (columns[k].some((value) => value !== columns[k][0])) return;
    throw modelError(
      `${factor}${level === undefined ? "" : ` ${level}`}, which never moved in these runs`,
      "factors that were cut at two settings or more",
      "Leave it out of the factors.",
    );
  });
  const mean = input.response.reduce((sum, value) => sum + value, 0) / input.response.length;
  return { form, response: input.response.map((value) => value - mean), columns, weights: input.weights };
}

function told(found: Found): FloorFit {
  const { fit, form, input, observations, parts, data, unit, plain } = found;
  const { confidence } = input;
  const asked = { fit, form, parts, unit, confidence, observations, weights: data.weights };
  const intervals = parameterIntervals(found);
  // Each profile is dozens of fits: made for the parameters that are asked for.
  const share = once(() => intervals(0));
  const floor = once((): Uncertain => {
    const { low, high } = share();
    const estimate = floorOf(form, fit.parameters[0], unit);
    return low === null || high === null
      ? withReason(estimate, "the runs set no bound to it")
      : interval(estimate, floorOf(form, low, unit), floorOf(form, high, unit), confidence);
  });
  const uncertain = (k: number, back: (value: number) => number): Uncertain => {
    const { low, high } = intervals(k + 2);
    const estimate = back(fit.parameters[k + 2]);
    return low === null || high === null
      ? withReason(estimate, "the runs set no bound to it")
      : interval(estimate, back(low), back(high), confidence);
  };
  const exponents = once(() =>
    parts.flatMap(({ factor, level }, k) =>
      level === undefined ? [{ factor, value: uncertain(k, (value) => value) }] : [],
    ),
  );
  const levels = once(() =>
    parts.flatMap(({ factor, level }, k) =>
      level === undefined ? [] : [{ factor, level, ratio: uncertain(k, Math.exp) }],
    ),
  );
  const tells = once((): FloorFit["tells"] => {
    const known = floor();
    return "low" in known && known.low > 0 ? "floor" : plain === null ? "nothing" : "either";
  });
  const separating = once(() =>
    tells() === "either"
      ? separatingPasses({
          data,
          parts,
          observations,
          unit,
          confidence,
          fit,
          highest: share().high,
        })
      : null,
  );
  const result: FloorFit = {
    kind: "floor",
    form,
    response: observations.response,
    confidence,
    converged: true,
    get floor() {
      return floor();
    },
    get exponents() {
      return exponents();
    },
    get levels() {
      return levels();
    },
    residualSd: fit.df > 0 ? Math.sqrt(fit.residualSumOfSquares / fit.df) : null,
    residualDf: fit.df,
    observations: onLogarithms(observations, input.response),
    profile: () => floorProfile(found, share()),
    without: plain,
    get tells() {
      return tells();
    },
    get separating() {
      return separating();
    },
    get sentences() {
      return sentences(result);
    },
    predict: floorPredictor(asked),
    change: floorChange(asked),
  };
  return result;
}

/** Profile intervals, each made when it is asked for. */
function parameterIntervals({ fit, form, data, input }: Found): (parameter: number) => ProfileInterval {
  const rows = data.response.length;
  const count = data.columns.length + 2;
  const model = floorModel(form, data.columns, rows);
  const variance = fit.residualSumOfSquares / fit.df;
  const local = leastSquares(
    Array.from({ length: count }, (_, k) => ({ high: fit.jacobian.slice(k * rows, (k + 1) * rows) })),
    fit.residuals,
    data.weights === undefined ? {} : { weights: data.weights },
  );
  const t = tQuantile((1 + input.confidence) / 2, fit.df);
  return (parameter: number): ProfileInterval => {
    if (local.rank < count) return { low: null, high: null };
    // Runs that are met exactly leave no scatter, and every parameter stands.
    if (fit.outcome === "exact") return { low: fit.parameters[parameter], high: fit.parameters[parameter] };
    return profileInterval(model, data.response, fit, {
      parameter,
      standardError: Math.sqrt(variance * local.inverseCross[parameter * count + parameter]),
      t,
      linear: [],
      weights: data.weights,
    });
  };
}

function unsettled(form: FloorForm, input: FitInput, plain: WithoutFloor | null): FloorFit {
  const reason = "no search for a floor settled: these runs don't show one";
  const { response } = input.observations;
  return {
    kind: "floor",
    form,
    response,
    confidence: input.confidence,
    converged: false,
    floor: withReason(null, reason),
    exponents: [],
    levels: [],
    residualSd: null,
    residualDf: 0,
    observations: onLogarithms(input.observations, input.response),
    profile: () => null,
    without: plain,
    tells: "nothing",
    separating: null,
    sentences: [
      `A floor of ${response.name} can't be told: ${reason}.`,
      ...(plain === null ? [] : [plain.text]),
    ],
    predict: () => {
      throw modelError("a prediction of a fit that didn't settle", "a fit that did", "Fit a power law.");
    },
    change: () => untoldChange(reason),
  };
}

/** A range that begins at none has no lower end to miss by; the figure of the committed table of coverage. */
const fromNone =
  " Where there is no floor at all such a range errs on the safe side: 95 % ranges held in 97.2 % of 10,000 drawn trials of 16 runs.";

function sentences(fit: FloorFit): readonly string[] {
  const { floor, exponents, response, confidence, without, tells, separating } = fit;
  const unit = unitText(response.unit);
  const made: string[] = [];
  if ("low" in floor) {
    const half = (floor.high - floor.low) / 2;
    made.push(
      tells === "floor"
        ? `${response.name} does not get below about ${rounded(floor.estimate, half)}${unit} (${percent(confidence)} ${rounded(floor.low, half)} to ${rounded(floor.high, half)}${unit}), however small the marks.`
        : `A floor of ${response.name} anywhere from none to ${rounded(floor.high, half)}${unit} would fit these runs.${fromNone}`,
    );
  } else made.push(`The floor of ${response.name} can't be told: ${floor.reason}.`);
  for (const { factor, value } of exponents)
    made.push(`Above the floor the exponent of ${factor} is ${value.text}.`);
  if (without !== null && tells === "either") {
    made.push(
      `These runs can't tell a floor from a smaller exponent: without a floor ${listed(without.exponents.map(({ factor, value }) => `the exponent of ${factor} is ${value.text}`))}, and the fit is ${without.p === null ? "as good" : `no worse than chance allows (p ${pText(without.p)})`}.`,
    );
    if (separating !== null) made.push(separating.text);
  } else if (without !== null && without.p !== null)
    made.push(`A power law without a floor fits worse than chance allows (p ${pText(without.p)}).`);
  return made;
}
