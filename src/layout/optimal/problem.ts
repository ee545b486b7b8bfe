import { listed } from "../../units/index.ts";
import { z } from "zod";
import { termsOf, type ModelKind, type Term } from "../../model/index.ts";
import { seededRandom } from "../../numerics/index.ts";
import type { Factor, Setting, Settings } from "../../trial/index.ts";
import { hadamard } from "../algebra/hadamard.ts";
import { commonShape, wholeNumber } from "../common-options.ts";
import { LayoutError } from "../error.ts";
import type { LayoutContext } from "../layout.ts";
import { sameSetting } from "../levels.ts";
import { constraintSchema, predicatesOf } from "./constraints.ts";
import type { Allowed } from "./exchange.ts";
import { largestDeterminant } from "./largest-determinant.ts";
import { searchModel, type SearchModel } from "./search-model.ts";
import type { SearchRequest } from "./search.ts";

const terms = z.array(z.record(z.string(), z.int().min(1).max(9)));

export const optimalSchema = z.strictObject({
  kind: z.literal("optimal"),
  ...commonShape,
  /** Runs in all, those kept among them; left out, four more than the terms, so that some error is left. */
  runs: wholeNumber(2, 2000).optional(),
  /** D: the narrowest intervals of all terms together; I: the best predictions over the region; A: the least average variance of the terms. */
  criterion: z.enum(["D", "I", "A"]).default("D"),
  terms: z.union([z.enum(["main", "interactions", "surface"]), terms]).default("interactions"),
  /** Terms that matter less: they are told apart only as far as runs are left. */
  lesserTerms: terms.default([]),
  /** How large the lesser effects may be, in σ. */
  lesserSize: z.number().positive().default(1),
  constraints: z.array(constraintSchema).default([]),
  /** Runs that must be in the layout, such as those cut earlier. */
  keep: z.array(z.record(z.string(), z.union([z.number(), z.string()]))).default([]),
  starts: wholeNumber(1, 100_000).default(40),
});

export type OptimalOptions = z.output<typeof optimalSchema>;

export interface OptimalProblem {
  readonly model: SearchModel;
  readonly request: SearchRequest;
  readonly terms: readonly Term[];
  readonly runs: number;
  readonly kept: number;
}

/** Terms that are asked for, by name or outright, without the mean. */
export function wantedTerms(
  factors: readonly Factor[],
  wanted: ModelKind | readonly Term[],
): readonly Term[] {
  const found = typeof wanted === "string" ? termsOf(wanted, factors) : wanted;
  return found.filter((term) => Object.keys(term).length > 0);
}

/** The search that an optimal layout asks for; refuses what no search can mend. */
export function optimalProblem(
  factors: readonly Factor[],
  options: OptimalOptions,
  context: LayoutContext,
): OptimalProblem {
  const wanted = wantedTerms(factors, options.terms);
  if (factors.length === 0 || wanted.length === 0) {
    throw new LayoutError('layout "optimal": there is no term to be told. Name a factor, or give "terms".');
  }
  const predicates = [
    ...context.predicates,
    ...predicatesOf(factors, options.constraints, context.conditions),
  ];
  const model = searchModel(
    factors,
    {
      terms: wanted,
      lesser: options.lesserTerms,
      lesserSize: options.lesserSize,
      blocks: options.blocks,
      also: factors.map((factor) => options.keep.map((settings) => checkedSetting(factor, settings))),
    },
    predicates.length > 0,
  );
  const primary = model.prior.filter((value) => value === 0).length;
  const { runs = Math.max(primary + 4, options.keep.length + 1) } = options;
  refuseTooFew(runs, primary, options);
  const blockOf = Int32Array.from({ length: runs }, (_, run) => run % options.blocks);
  return {
    model,
    terms: wanted,
    runs,
    kept: options.keep.length,
    request: {
      criterion: options.criterion,
      starts: options.starts,
      seed: options.seed,
      blockOf,
      kept: keptPoints(model, options.keep),
      allowed: allowedBy(model, predicates),
      known: predicates.length > 0 || options.keep.length > 0 ? [] : knownStarts(model, runs, options),
    },
  };
}

function refuseTooFew(runs: number, primary: number, options: OptimalOptions): void {
  if (options.keep.length >= runs) {
    throw new LayoutError(
      `layout.runs: ${runs} runs, of which ${options.keep.length} are kept, leave none to choose. Take more than ${options.keep.length}.`,
    );
  }
  if (runs >= primary) return;
  throw new LayoutError(
    `layout.runs: ${primary} terms${options.blocks > 1 ? " (mean and blocks among them)" : " (the mean among them)"} can't be told by ${runs} runs. Take at least ${primary}, better ${primary + 4}, or move terms to "lesserTerms".`,
  );
}

function checkedSetting(factor: Factor, settings: Settings): Setting {
  const setting = settings[factor.name];
  if (factor.kind === "quantity" && typeof setting === "number" && Number.isFinite(setting)) return setting;
  if (factor.kind === "category" && typeof setting === "string" && factor.levels.includes(setting))
    return setting;
  throw new LayoutError(
    `layout.keep: ${JSON.stringify(setting)} is no setting of ${factor.name}; expected ${factor.kind === "quantity" ? `a number of ${factor.unit}` : listed(factor.levels, "or")}.`,
  );
}

function keptPoints(model: SearchModel, keep: readonly Settings[]): Int32Array {
  return Int32Array.from(
    keep.flatMap((settings) =>
      model.factors.map((factor, place) =>
        (model.candidates[place] ?? []).findIndex((candidate) =>
          sameSetting(candidate, settings[factor.name]),
        ),
      ),
    ),
  );
}

function allowedBy(model: SearchModel, predicates: LayoutContext["predicates"]): Allowed | undefined {
  if (predicates.length === 0) return undefined;
  const known = new Map<string, boolean>();
  return (points, offset) => {
    const key = points.slice(offset, offset + model.factors.length).join();
    const before = known.get(key);
    if (before !== undefined) return before;
    const settings = settingsAt(model, points, offset);
    const fits = predicates.every((predicate) => predicate(settings) === null);
    known.set(key, fits);
    return fits;
  };
}

export function settingsAt(model: SearchModel, points: Int32Array, offset: number): Settings {
  return Object.fromEntries(
    model.factors.map((factor, place) => [
      factor.name,
      model.candidates[place]?.[points[offset + place] ?? 0] ?? "",
    ]),
  );
}

/** Main effects of two-level factors: constructions that a search would have to find by luck. */
function knownStarts(model: SearchModel, runs: number, options: OptimalOptions): readonly Int32Array[] {
  const size = model.factors.length;
  const plain =
    options.blocks === 1 &&
    model.columnCount === size + 1 &&
    model.candidates.every((list) => list.length === 2) &&
    model.prior.every((value) => value === 0);
  if (!plain) return [];
  const matrix =
    runs === size + 1 && options.criterion === "D"
      ? largestDeterminant(runs, seededRandom(options.seed))
      : runs > size && runs <= 256
        ? hadamard(runs)
        : undefined;
  if (!matrix) return [];
  return [
    Int32Array.from(
      matrix.flatMap((row) => row.slice(1, size + 1).map((value) => (value * (row[0] ?? 1) > 0 ? 1 : 0))),
    ),
  ];
}
