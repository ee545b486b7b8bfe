import type { Run, TrialSpec } from "../../trial/index.ts";
import { formatNumber, formatQuantity, listed, quantity } from "../../units/index.ts";
import { planCost, type RunCost } from "./plan-cost.ts";

/** What a plan has used up after each run, as columns of a run sheet, and in all in one sentence. */
export interface CostSoFar {
  readonly headings: readonly string[];
  /** One row a run, in cutting order; one text a heading. */
  readonly rows: readonly (readonly string[])[];
  /** Empty for a plan without runs. */
  readonly sentence: string;
}

/**
 * Minutes, stock, edges and chips summed run by run, as text for a run sheet.
 *
 * Use it beside the runs of a plan: what can't be reckoned has no column. Lengths are shown in the trial's own system. Edges
 * have a column only where more than one is used. Example: headings ["minutes so far", "stock so far"], first row
 * ["3.44", "0.1 mm"].
 */
export function costSoFar(spec: TrialSpec, runs: readonly Run[]): CostSoFar {
  const { rows, total, warmUpPasses } = planCost(spec, runs);
  if (!total) return { headings: [], rows: [], sentence: "" };
  const length = (mm: number) => formatQuantity(quantity(mm, "mm"), { system: spec.display, digits: 3 });
  const number = (value: number) => formatNumber(value, { digits: 3 });
  const columns: readonly {
    readonly heading: string;
    readonly of: (row: RunCost) => number | null;
    readonly text: (value: number) => string;
    readonly says: (value: number) => string;
  }[] = [
    {
      heading: "minutes so far",
      of: (row) => row.minutesSoFar,
      text: number,
      says: (value) => `${number(value)} minutes${ofBudget(spec.budget?.minutes)}`,
    },
    {
      heading: "stock so far",
      of: (row) => row.stockSoFarMm,
      text: length,
      says: (value) =>
        `${length(value)} of stock${spec.budget?.stock === undefined ? "" : ` (${spec.budget.stock} at hand)`}`,
    },
    {
      heading: "chips so far",
      of: (row) => row.chipsSoFarG,
      text: (value) => `${number(value)} g`,
      says: (value) => `${number(value)} g of chips`,
    },
    {
      heading: "edges so far",
      of: (row) => (total.edgesSoFar > 1 || spec.budget?.edges !== undefined ? row.edgesSoFar : null),
      text: String,
      says: (value) => `${value} edge${value === 1 ? "" : "s"}${ofBudget(spec.budget?.edges)}`,
    },
  ];
  const known = columns.filter(({ of }) => of(total) !== null);
  const passes = runs.length + warmUpPasses;
  const warming = warmUpPasses === 0 ? "" : `, ${warmUpPasses} of them to warm the machine up`;
  return {
    headings: known.map(({ heading }) => heading),
    rows: rows.map((row) => known.map(({ of, text }) => text(of(row) ?? 0))),
    sentence: `Takes ${listed([
      `${passes} pass${passes === 1 ? "" : "es"}${warming}${ofBudget(spec.budget?.passes)}`,
      ...known.map(({ of, says }) => says(of(total) ?? 0)),
    ])}.`,
  };
}

function ofBudget(atHand: number | undefined): string {
  return atHand === undefined ? "" : ` (${formatNumber(atHand)} at hand)`;
}
