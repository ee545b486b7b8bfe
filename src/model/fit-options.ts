import { listed } from "../units/index.ts";
import type { Trial } from "../trial/index.ts";
import { markOf, type ChosenFrom } from "./chosen-from.ts";
import { modelError } from "./error.ts";
import { observe } from "./observe.ts";
import type { Observation, Observations, ObservedBlocks } from "./observations.ts";
import { checkConfidence } from "./predict.ts";
import type { ModelKind, Term } from "./term.ts";
import { requireUsualSize } from "./usual-size.ts";

/** What a fit may be told; every default is stated here. */
export interface FitOptions {
  /** Needed where a trial has several responses. */
  readonly response?: string;
  /** A named set of terms. Default "main". */
  readonly model?: Exclude<ModelKind, "power-law">;
  /** The terms outright, in place of `model`; the intercept needs no mention. */
  readonly terms?: readonly Term[];
  /** Of every interval. Default 0.95. */
  readonly confidence?: number;
  /** True fits the natural logarithm of the response (of each reading, where runs were read several times). Default false. */
  readonly log?: boolean;
  /** True leaves the intercept out. Default false. */
  readonly throughOrigin?: boolean;
  /** Whether runs in several blocks have each block fitted at its own level. Default "fit". */
  readonly block?: "fit" | "ignore";
  /** True tells coefficients of factors coded −1 to +1 over their range; fitted values are the same. Default false. */
  readonly coded?: boolean;
  /** Inverse variances of the rows up to a factor, one a row, or made from a row. Default: all alike. */
  readonly weights?: readonly number[] | ((row: Observation) => number);
  /**
   * Given where the model was chosen by looking at these data; the fit carries it, and its notes say what that does to the intervals. Default: the mark of
   * `terms`, where a search handed them out.
   */
  readonly chosenFrom?: ChosenFrom;
}

/** Options checked, observations made, response on the scale of the fit. */
export interface FitInput {
  readonly observations: Observations;
  readonly response: Float64Array;
  readonly weights: Float64Array | undefined;
  readonly blocks: ObservedBlocks | undefined;
  readonly confidence: number;
  readonly chosenFrom: ChosenFrom | undefined;
}

/** The door of every fit: makes the observations and checks what was given. */
export function fitInput(source: Trial | Observations, options: FitOptions): FitInput {
  const {
    response,
    confidence = 0.95,
    log = false,
    block = "fit",
    throughOrigin = false,
    model,
    terms,
  } = options;
  checkConfidence(confidence);
  if (model !== undefined && terms !== undefined)
    throw modelError("both a model and terms", "one of the two");
  const observations = levelsCut(
    "spec" in source ? observe(source, response, { log }) : sameResponse(source, response),
  );
  const { rows } = observations;
  if (rows.length === 0) throw modelError(`no row of ${observations.response.name}`, "at least one row");
  const blocks = block === "fit" ? blocksOf(observations) : undefined;
  if (blocks !== undefined && throughOrigin) {
    throw modelError(
      "blocks in a fit through the origin",
      "one or the other",
      'Ignore the blocks (block: "ignore") or fit with an intercept.',
    );
  }
  const values = new Float64Array(rows.map((row) => fittedValue(row, observations, log)));
  requireUsualSize(
    log ? Float64Array.from(rows, (row) => (row.single.length > 0 ? row.single[0] : row.value)) : values,
    `readings of ${observations.response.name}`,
  );
  return {
    observations,
    response: values,
    weights: weightsOf(rows, options.weights),
    blocks,
    confidence,
    chosenFrom: options.chosenFrom ?? markOf(terms),
  };
}

function sameResponse(observations: Observations, response: string | undefined): Observations {
  if (response === undefined || response === observations.response.name) return observations;
  throw modelError(
    `the response "${response}"`,
    `"${observations.response.name}", which these observations hold`,
    "Observe that response first.",
  );
}

/** Categories with the levels that were cut: of the others nothing can be told, and a note says so. */
function levelsCut(observations: Observations): Observations {
  const notes: string[] = [];
  const factors = observations.factors.map((factor) => {
    if (factor.kind === "quantity") return factor;
    const cut = new Set(observations.rows.map((row) => row.settings[factor.name]));
    const missing = factor.levels.filter((level) => !cut.has(level));
    if (missing.length === 0) return factor;
    const levels = factor.levels.filter((level) => cut.has(level));
    const first = levels[0] === factor.levels[0] ? "" : ` Levels are compared with ${levels[0]}.`;
    notes.push(`${factor.name} ${listed(missing)} was never cut and is left out.${first}`);
    return { ...factor, levels };
  });
  return notes.length === 0
    ? observations
    : { ...observations, factors, notes: [...(observations.notes ?? []), ...notes] };
}

function fittedValue(row: Observation, { response, logScale = false }: Observations, log: boolean): number {
  if (logScale && !log) {
    throw modelError(
      "observations of logarithms for a fit of the response itself",
      "log: true, or observations made without log",
    );
  }
  const readings = log && !logScale ? (row.single.length > 0 ? row.single : [row.value]) : [row.value];
  let total = 0;
  for (const reading of readings) {
    if (!Number.isFinite(reading))
      throw modelError(`run ${row.run}: ${response.name} ${reading}`, "a finite number");
    if (log && !logScale && reading <= 0) {
      throw modelError(
        `run ${row.run}: ${response.name} ${reading}, of which there is no logarithm`,
        "values above zero",
        "Fit without the logarithm.",
      );
    }
    total += log && !logScale ? Math.log(reading) : reading;
  }
  return total / readings.length;
}

/** The blocks that differ among the rows; undefined where all rows are in one. */
function blocksOf({ rows, blocks }: Observations): ObservedBlocks | undefined {
  const used = [...new Set(rows.map((row) => row.block))].sort((a, b) => a - b);
  if (used.length < 2) return undefined;
  const last = used.at(-1)!;
  const levels = blocks?.levels ?? Array.from({ length: last }, (_, i) => String(i + 1));
  if (levels.length < last)
    throw modelError(`block ${last} among ${levels.length} named blocks`, "a name for each block");
  return { name: blocks?.name ?? "block", levels };
}

function weightsOf(rows: readonly Observation[], weights: FitOptions["weights"]): Float64Array | undefined {
  if (weights === undefined) return undefined;
  if (typeof weights !== "function" && weights.length !== rows.length) {
    throw modelError(`${weights.length} weights for ${rows.length} rows`, "one weight a row");
  }
  return Float64Array.from(rows, (row, i) => {
    const weight = typeof weights === "function" ? weights(row) : weights[i];
    if (weight >= 0 && Number.isFinite(weight)) return weight;
    throw modelError(`run ${row.run}: weight ${weight}`, "a finite number, zero or more");
  });
}
