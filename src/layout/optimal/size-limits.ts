import { termsOf, type Term } from "../../model/index.ts";
import type { Factor } from "../../trial/index.ts";
import { listed } from "../../units/index.ts";
import { LayoutError } from "../error.ts";
import type { DesignPlan } from "./design-state.ts";
import type { SearchModel } from "./search-model.ts";

/** Columns of the model: the square of it is held several times over, and its moments are made one by one. */
const MOST_COLUMNS = 600;
/** Steps of all starts: an hour or so on one core of 2020, at some 600 a microsecond as measured from 3 to 120 columns. */
const MOST_STEPS = 2e12;
/** Sweeps of one start with its kicks, as counted in trials. */
const SWEEPS = 30;

/** Steps of all starts where their number is left to the tool: a minute or so. */
const USUAL_STEPS = 3e10;
const USUAL_STARTS = 40;

/**
 * Columns that terms take beside the mean, counted from the levels and not by making them: a product of three categories of 128
 * levels has two million.
 */
export function columnsOf(factors: readonly Factor[], terms: readonly Term[]): number {
  const own = new Map(
    factors.map((factor) => [factor.name, factor.kind === "category" ? factor.levels.length - 1 : 1]),
  );
  return terms.reduce(
    (sum, term) => sum + Object.keys(term).reduce((product, name) => product * (own.get(name) ?? 1), 1),
    0,
  );
}

/** Refuses a model before its columns are made. */
export function refuseTooManyColumns(
  factors: readonly Factor[],
  terms: readonly Term[],
  blocks: number,
): void {
  const columns = blocks + columnsOf(factors, terms);
  if (columns <= MOST_COLUMNS) return;
  const sets = (["interactions", "main"] as const)
    .map((name) => ({ name, size: blocks - 1 + columnsOf(factors, termsOf(name, factors)) }))
    .filter(({ size }) => size <= MOST_COLUMNS)
    .map(({ name, size }) => `"${name}", which takes ${size}`);
  throw new LayoutError(
    `layout.terms: ${blocks > 1 ? "mean, blocks" : "mean"} and terms take ${columns.toLocaleString("en")} columns, more than the ${MOST_COLUMNS} that a search can hold. Ask for ${sets.length > 0 ? listed(sets, "or") : "fewer factors, levels or blocks"}, or list the terms that you need.`,
  );
}

/** The starts that are made: those asked for, or as many as end soon. Refuses a search that nobody would wait for. */
export function startsFor(model: SearchModel, plan: DesignPlan, asked: number | undefined): number {
  const size = model.columnCount;
  const steps = stepsOfStart(model, plan);
  const starts = asked ?? Math.max(1, Math.min(USUAL_STARTS, Math.floor(USUAL_STEPS / steps)));
  if (steps * starts <= MOST_STEPS) return starts;
  const fitting = Math.floor(MOST_STEPS / steps);
  throw new LayoutError(
    fitting > 0
      ? `layout.starts: ${starts.toLocaleString("en")} starts with ${plan.runs} runs and ${size} terms would take too long. At most ${fitting.toLocaleString("en")} starts can be made.`
      : `layout.runs: ${plan.runs} runs with ${size} terms would take too long for even one start. Take at most ${fittingRuns(model, plan)} runs, or fewer terms.`,
  );
}

/** Multiplications of one start, roughly: updates and products of the size squared, and the candidates' forms. */
export function stepsOfStart(model: SearchModel, { runs, plots, criterion }: DesignPlan): number {
  const size = model.columnCount;
  // I and A keep two matrices, change them by more products, and take more sweeps to come to rest.
  const matrices = criterion === "D" ? 1 : 6;
  let run = 2 * size * size;
  let whole = 0;
  model.axes.forEach((axis, place) => {
    const columns = model.factorColumns[place]?.columns.length ?? 0;
    const candidates = axis.candidates.length * (axis.functionCount + 1) ** 2;
    if (plots?.hard[place]) {
      const length = runs / plots.count;
      whole += 2 * length * size * size + length ** 2 * columns ** 2 + candidates * 1.5 * length ** 3;
    } else run += columns ** 2 + candidates + (size * size) / 2;
  });
  const fresh = (runs * size * size + size ** 3) / 4;
  return SWEEPS * matrices * (runs * run + (plots?.count ?? 0) * whole + fresh);
}

function fittingRuns(model: SearchModel, plan: DesignPlan): number {
  return Math.floor((plan.runs * MOST_STEPS) / stepsOfStart(model, plan));
}
