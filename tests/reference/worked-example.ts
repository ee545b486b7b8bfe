import { readFileSync, readdirSync } from "node:fs";
import { fitLinear, fitPowerLaw, observeTable } from "../../src/model/index.ts";
import type { Fit, Observations, TableColumn, Term } from "../../src/model/index.ts";

/** How one analysis of a worked example was made: the options of `observeTable` and of the fit, in JSON. */
export interface ExampleAnalysis {
  readonly name: string;
  readonly response: string;
  readonly factors: readonly string[];
  readonly categories?: readonly string[];
  readonly block?: string;
  readonly model?: "main" | "interactions" | "surface";
  readonly terms?: readonly Term[];
  readonly log?: boolean;
  readonly coded?: boolean;
  readonly powerLaw?: boolean;
  /** Only the lines with this value in this column. */
  readonly only?: Readonly<Record<string, number>>;
  /** Coded ends where they are not the lowest and highest setting. */
  readonly ends?: Readonly<Record<string, readonly [number, number]>>;
  readonly weights?: { readonly column: string; readonly power: number };
  readonly published: Published;
}

export type Printed = Readonly<Record<string, string>>;

/** Figures as printed, so that their last digit is known. */
export interface Published {
  readonly coefficients?: Printed;
  readonly standardErrors?: Printed;
  readonly t?: Printed;
  readonly effects?: Printed;
  readonly effectIntervals?: Readonly<Record<string, readonly [string, string]>>;
  readonly effectStandardError?: string;
  readonly sumsOfSquares?: Printed;
  readonly meanSquares?: Printed;
  readonly degreesOfFreedom?: Printed;
  readonly f?: Printed;
  readonly p?: Printed;
  readonly modelSumOfSquares?: string;
  readonly modelF?: string;
  readonly residualSd?: string;
  readonly rSquared?: string;
  readonly rSquaredAdjusted?: string;
  readonly lackOfFit?: Printed;
  readonly curvature?: Printed;
  readonly unreplicated?: Printed;
  readonly active?: readonly Term[];
  readonly surface?: {
    readonly stationary: Printed;
    readonly value: string;
    readonly eigenvalues: readonly string[];
  };
  readonly predictions?: readonly {
    readonly at: Readonly<Record<string, number | string>>;
    readonly estimate: string;
  }[];
}

interface RecomputedCoefficient {
  readonly estimate: number;
  readonly standardError?: number;
  readonly low?: number;
  readonly high?: number;
  readonly t?: number;
  readonly p?: number;
}

/** The same analysis by base R; see recompute.R beside the fixtures. */
export interface Recomputed {
  readonly name: string;
  readonly residualDf: number;
  readonly coefficients: Readonly<Record<string, RecomputedCoefficient>>;
  readonly residualSd?: number;
  readonly rSquared?: number;
  readonly rSquaredAdjusted?: number;
  readonly analysis?: Readonly<
    Record<
      string,
      {
        readonly df: number;
        readonly sumOfSquares: number;
        readonly f: number | null;
        readonly p: number | null;
      }
    >
  >;
  readonly lackOfFit?: Readonly<Record<string, number>>;
  readonly unreplicated?: Readonly<Record<string, number>>;
  readonly surface?: {
    readonly stationary: Readonly<Record<string, number>>;
    readonly value: number;
    readonly eigenvalues: readonly number[];
  };
  readonly rows?: Readonly<
    Record<"fitted" | "leverage" | "studentised" | "cookDistance", readonly (number | null)[]>
  >;
}

export interface WorkedExample {
  readonly file: string;
  readonly source: string;
  readonly columns: readonly TableColumn[];
  readonly analyses: readonly ExampleAnalysis[];
  readonly recomputed: readonly Recomputed[];
}

const folder = new URL("../fixtures/worked-examples/", import.meta.url);

/** A worked example by its file name. */
export function workedExample(name: string): WorkedExample {
  const read = (file: string): unknown => JSON.parse(readFileSync(new URL(file, folder), "utf8"));
  // The fixtures are the project's own and have this shape.
  const example = read(`${name}.json`) as Omit<WorkedExample, "file" | "recomputed">;
  const { analyses } = read(`${name}.recomputed.json`) as { readonly analyses: readonly Recomputed[] };
  return { ...example, file: name, recomputed: analyses };
}

/** All worked examples, by file name. */
export function workedExamples(): readonly WorkedExample[] {
  return readdirSync(folder)
    .filter((file) => file.endsWith(".json") && !file.endsWith(".recomputed.json"))
    .sort()
    .map((file) => workedExample(file.slice(0, -".json".length)));
}

/** The observations of an analysis. */
export function observationsOf(example: WorkedExample, analysis: ExampleAnalysis): Observations {
  const { response, factors, categories, block, only, ends, log = false, powerLaw = false } = analysis;
  const kept = example.columns.map((column) => ({
    ...column,
    values: column.values.filter((_, i) => isKept(example, only, i)),
  }));
  const observations = observeTable(
    { columns: kept },
    {
      response,
      factors,
      log: log || powerLaw,
      ...(categories === undefined ? {} : { categories }),
      ...(block === undefined ? {} : { block }),
    },
  );
  if (ends === undefined) return observations;
  const withEnds = observations.factors.map((factor) => ({
    ...factor,
    low: ends[factor.name][0],
    high: ends[factor.name][1],
  }));
  return { ...observations, factors: withEnds };
}

/** The fit of an analysis; `coded` in place of its own choice where it is given. */
export function fitOf(
  example: WorkedExample,
  analysis: ExampleAnalysis,
  choice: { readonly coded?: boolean } = {},
): Fit {
  const observations = observationsOf(example, analysis);
  const { coded = analysis.coded ?? false } = choice;
  const { weights: by, terms, model, powerLaw = false, log = false } = analysis;
  const weights =
    by === undefined
      ? {}
      : { weights: observations.rows.map((row) => Number(row.settings[by.column]) ** by.power) };
  const wanted = terms === undefined ? {} : { terms };
  if (powerLaw) return fitPowerLaw(observations, { ...wanted, ...weights, coded });
  return fitLinear(observations, {
    ...wanted,
    ...weights,
    coded,
    log,
    ...(terms === undefined && model !== undefined ? { model } : {}),
  });
}

function isKept(example: WorkedExample, only: ExampleAnalysis["only"], line: number): boolean {
  if (only === undefined) return true;
  return Object.entries(only).every(
    ([name, value]) => example.columns.find((column) => column.name === name)!.values[line] === value,
  );
}
