import { betaQuantile, refitter } from "../../numerics/index.ts";
import { listed } from "../../units/index.ts";
import { termLabel } from "../design.ts";
import { modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import { termKey, type Term } from "../term.ts";
import { pText } from "../words.ts";
import { columnsOf, requirePlainFit, requireRunsAsRows } from "./bootstrap-order.ts";
import { drawBlocks, drawBlocksInWorkers, type Drawn } from "./draw-blocks.ts";
import { permutationMaker, shareExplained, type PermutationOrder } from "./permutation-draws.ts";
import { requireDraws, type WorkOptions } from "./work-options.ts";

export interface PermutationOptions {
  /** The term tested in the presence of the others. Default: all terms together, blocks staying. */
  readonly term?: Term;
  /** "blocks": runs change places within their block only. Default: "blocks" where the fit has blocks, else "all". */
  readonly within?: "blocks" | "all";
  /** From 99 to 1,000,000; where there are no more orders than this (or than 20,000) every one is taken. Default 9,999. */
  readonly draws?: number;
  /** Default 1. */
  readonly seed?: number;
}

export interface Permutation {
  /** In words what was tested. */
  readonly label: string;
  /** F of the terms tested, in the presence of the others; null where the model meets the runs exactly or nothing moves. */
  readonly f: number | null;
  readonly df: number;
  readonly residualDf: number;
  /** Share of the orders in which the terms explain at least as much as they do in the order cut; null where there is no test. */
  readonly p: number | null;
  /** What further draws could make of p (99 %, Clopper and Pearson); both equal to p where every order was taken. */
  readonly pLow: number | null;
  readonly pHigh: number | null;
  readonly draws: number;
  /** True where every order of the runs was taken, so that chance plays no part. */
  readonly everyOrder: boolean;
  readonly stopped: boolean;
  readonly seed: number;
  readonly within: "blocks" | "all";
  /** Why there is no test; empty where there is one. */
  readonly reason: string;
  readonly sentence: string;
}

/** Up to so many orders every one is looked at. */
const everyOrderUpTo = 20_000;

/**
 * Tests one term of a fit, or all of them, by letting the runs change places: if the term does nothing, any order of what the other terms leave was as likely as the
 * one cut. Use it where the scatter is far from normal or the runs are few; it needs only that the scatter is alike for all runs.
 *
 * One term in the presence of others by the residuals of the model without it (Freedman and Lane 1983); exact where nothing but the mean and the blocks stay, near
 * enough where other terms do (Anderson and Legendre 1999, J. Statist. Comput. Simul. 62, 271–303). p is (1 + orders as extreme)/(1 + draws), or the
 * share of all orders where each was taken. No test, with its reason: no scatter left, all values alike, a term that can't be told apart.
 * Refused: weighted rows (they are not alike), rows that are readings of one run, a fit through the origin, terms that the fit doesn't have.
 * Example: of 1, 2, 3 against 4, 5, 6 two of the twenty ways to share out the runs are as extreme: p = 0.1.
 */
export function permutationTest(fit: Fit, options: PermutationOptions = {}): Permutation {
  const plan = planned(fit, options);
  return told(plan, drawBlocks({ order: plan.order, maker: permutationMaker }));
}

/** The same in worker threads, with progress and a stop; p does not depend on the number of threads. */
export async function permutationTestInWorkers(
  fit: Fit,
  options: PermutationOptions & WorkOptions = {},
): Promise<Permutation> {
  const plan = planned(fit, options);
  const module = new URL("./resample-worker.ts", import.meta.url);
  const { order } = plan;
  return told(plan, await drawBlocksInWorkers({ order, maker: permutationMaker, module }, options));
}

interface Plan {
  readonly label: string;
  readonly response: string;
  readonly df: number;
  readonly residualDf: number;
  readonly within: "blocks" | "all";
  readonly seed: number;
  readonly observed: number;
  readonly reason: string;
  readonly order: PermutationOrder | null;
}

function planned(fit: Fit, options: PermutationOptions): Plan {
  const { term, draws = 9999, seed = 1, within = fit.blocks === null ? "all" : "blocks" } = options;
  requireDraws(draws, 99);
  requirePlainFit(fit, "a permutation");
  if (fit.weights !== null)
    throw modelError(
      "weighted rows that change places",
      "rows that scatter alike",
      "Use the bootstrap, which takes weights.",
    );
  if (fit.throughOrigin)
    throw modelError("a permutation of a fit through the origin", "a fit with an intercept");
  requireRunsAsRows(fit, "a permutation", "Average the readings of each run first.");
  if (term !== undefined && !fit.terms.some((one) => termKey(one) === termKey(term)))
    throw modelError(
      `the term ${termLabel(term)}`,
      `one of ${listed(fit.terms.filter((one) => termKey(one) !== termKey({})).map(termLabel), "or")}`,
    );
  if (term !== undefined && Object.keys(term).length === 0)
    throw modelError("the intercept as the term to test", "a term that moves with the settings");
  const tested = fit.coefficients.map((one) => isTested(fit, one.term, term));
  const label = term === undefined ? "all terms together" : termLabel(term);
  const columns = columnsOf(fit);
  const reduced = tested.flatMap((is, k) => (is ? [] : [k]));
  const response = Float64Array.from(fit.rows, ({ value }) => value);
  const df = tested.filter(Boolean).length;
  const reason =
    df === 0
      ? `${label} can't be told from the other terms in these runs`
      : fit.noInterval !== ""
        ? fit.noInterval
        : "";
  const full = refitter(columns.map((high) => ({ high })));
  const less = refitter(reduced.map((k) => ({ high: columns[k] })));
  const moved = less.refit(response).residualSumOfSquares;
  const size = response.reduce((sum, value) => sum + value ** 2, 0);
  const still =
    reason === "" && moved <= 1e-24 * size ? "nothing is left to explain: the runs agree without it" : reason;
  const strata = strataOf(fit, within);
  const orders = strata.reduce((product, rows) => product * factorial(rows.length), 1);
  const everyOrder = orders <= Math.max(draws, everyOrderUpTo);
  return {
    label,
    response: fit.response.name,
    df,
    residualDf: fit.residualDf,
    within,
    seed,
    observed: still === "" ? shareExplained(less, full, response) : 0,
    reason: still,
    order:
      still !== ""
        ? null
        : {
            kind: "permutation",
            columns,
            reduced,
            response,
            strata,
            draws: everyOrder ? orders : draws,
            seed,
            everyOrder,
          },
  };
}

/** Whether a coefficient belongs to the term tested (or, of all terms, is neither intercept nor block). */
function isTested(fit: Fit, coefficient: Term, term: Term | undefined): boolean {
  const keys = Object.entries(coefficient).map(([key, degree]): [string, number] => {
    const factor = fit.factors.find(({ name }) => key === name || key.startsWith(`${name}=`));
    return [factor?.name ?? "", degree];
  });
  if (keys.length === 0 || keys.some(([name]) => name === "")) return false;
  return term === undefined || termKey(Object.fromEntries(keys)) === termKey(term);
}

function strataOf(fit: Fit, within: "blocks" | "all"): readonly Int32Array[] {
  const groups = new Map<number, number[]>();
  fit.rows.forEach(({ block }, i) => {
    const key = within === "blocks" ? block : 0;
    groups.set(key, [...(groups.get(key) ?? []), i]);
  });
  return [...groups.values()].map((rows) => Int32Array.from(rows));
}

function factorial(n: number): number {
  let product = 1;
  for (let k = 2; k <= n; k++) product *= k;
  return product;
}

function told(plan: Plan, { blocks, stopped }: Drawn): Permutation {
  const { label, df, residualDf, seed, within, observed, order, response } = plan;
  const draws = blocks.reduce((sum, { made }) => sum + made, 0);
  const reason =
    plan.reason !== ""
      ? plan.reason
      : draws < 99 && stopped
        ? `stopped after ${draws} draws, which are too few`
        : "";
  const base = {
    label,
    df,
    residualDf,
    seed,
    within,
    draws,
    stopped,
    everyOrder: order?.everyOrder === true && !stopped,
  };
  if (reason !== "" || order === null)
    return {
      ...base,
      f: null,
      p: null,
      pLow: null,
      pHigh: null,
      reason,
      sentence: `No test of ${label} by changing places: ${reason}.`,
    };
  // Orders that are alike by symmetry come out alike to rounding only.
  const atLeast = blocks.reduce(
    (sum, { values }) => sum + values.reduce((count, value) => count + (value >= observed - 1e-9 ? 1 : 0), 0),
    0,
  );
  const p = base.everyOrder ? atLeast / draws : (atLeast + 1) / (draws + 1);
  const [pLow, pHigh] = base.everyOrder
    ? [p, p]
    : [
        atLeast === 0 ? 0 : betaQuantile(0.005, atLeast, draws - atLeast + 1),
        atLeast === draws ? 1 : betaQuantile(0.995, atLeast + 1, draws - atLeast),
      ];
  const f = observed < 1 ? ((observed / (1 - observed)) * residualDf) / df : null;
  const how = base.everyOrder
    ? `in all ${draws} orders of the runs`
    : `in ${draws} orders drawn, seed ${seed}`;
  const where = within === "blocks" ? " within their blocks" : "";
  return {
    ...base,
    f,
    p,
    pLow,
    pHigh,
    reason: "",
    sentence: `If ${label} did nothing to ${response}, runs that change places${where} would show as much in ${shareText(p)} (p ${pText(p)}; ${how}).${stopped ? " Stopped before all were drawn." : ""}`,
  };
}

/** "1 order of 20", "fewer than 1 order of 1,000". */
function shareText(p: number): string {
  return p < 0.001 ? "fewer than 1 order in 1,000" : `${Number((100 * p).toPrecision(2))} of 100 orders`;
}
