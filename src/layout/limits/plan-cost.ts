import { passConditionsOf } from "../../cutting/index.ts";
import { heldQuantity, type Run, type TrialSpec } from "../../trial/index.ts";
import { dimensionOf, parseQuantity, valueIn } from "../../units/index.ts";

/** What one run takes, and what the plan has taken when it is done. Null where the trial does not state enough. */
export interface RunCost {
  readonly run: number;
  /** At feed speed, approach and overtravel included. */
  readonly minutes: number | null;
  /** With the minutes between passes. */
  readonly minutesSoFar: number | null;
  readonly stockMm: number | null;
  readonly stockSoFarMm: number | null;
  readonly chipsCm3: number | null;
  readonly chipsSoFarCm3: number | null;
  readonly chipsSoFarG: number | null;
  readonly edgesSoFar: number;
}

/** A budget that runs out, and the first run that it does not reach. */
export interface BudgetEnd {
  readonly budget: "passes" | "minutes" | "stock" | "edges";
  readonly run: number;
  readonly atHand: number;
  /** What the whole plan takes. */
  readonly wanted: number;
}

export interface PlanCost {
  readonly rows: readonly RunCost[];
  readonly total: RunCost | null;
  readonly ends: readonly BudgetEnd[];
  /** What could not be reckoned, and what to state so that it can. */
  readonly unknown: readonly string[];
  readonly assumptions: readonly string[];
}

/**
 * Minutes, stock, chips and edges of a plan, run by run and summed in cutting order, with the run where each budget ends.
 *
 * Use it on a plan before it is written, and for the run sheet. Minutes are those at feed speed plus `budget.minutesBetween`
 * between two passes; stock is the depth of every pass added up; chips are removal rate by minutes (by mass with the
 * material's density in g/cm³). A block begins with a fresh edge, and a factor named edge, insert or tool takes one edge a
 * level in each block. What can't be reckoned is null, with the reason in `unknown`.
 */
export function planCost(
  spec: TrialSpec,
  runs: readonly Run[],
  options: { readonly densityGPerCm3?: number } = {},
): PlanCost {
  const { densityGPerCm3 = heldDensity(spec) } = options;
  const between = spec.budget?.minutesBetween ?? 0;
  const unknown = new Set<string>();
  const assumptions = new Set<string>();
  const edges = new Set<string>();
  const conditions = passConditionsOf(spec);
  const rows: RunCost[] = [];
  let [minutesSoFar, stockSoFarMm, chipsSoFarCm3]: (number | null)[] = [0, 0, 0];
  runs.forEach((run, index) => {
    const pass = conditions(run.settings);
    for (const { what, why } of pass.missing) {
      if (what === "minutes" && why) unknown.add(`Minutes can't be reckoned. ${why}`);
    }
    for (const assumption of pass.assumptions) assumptions.add(assumption);
    const minutes = pass.minutes;
    const chipsCm3 =
      minutes === null || pass.removalRateCm3PerMin === null ? null : pass.removalRateCm3PerMin * minutes;
    if (spec.budget?.stock !== undefined && pass.depthMm === null) {
      unknown.add(
        'Stock can\'t be reckoned. Wants the depth of cut: a factor named depth, or held, such as "depth": "0.1 mm".',
      );
    }
    minutesSoFar = sum(minutesSoFar, minutes, index > 0 ? between : 0);
    stockSoFarMm = sum(stockSoFarMm, pass.depthMm);
    chipsSoFarCm3 = sum(chipsSoFarCm3, chipsCm3);
    edges.add(edgeOf(spec, run));
    rows.push({
      run: run.run,
      minutes,
      minutesSoFar,
      stockMm: pass.depthMm,
      stockSoFarMm,
      chipsCm3,
      chipsSoFarCm3,
      chipsSoFarG:
        chipsSoFarCm3 === null || densityGPerCm3 === undefined ? null : chipsSoFarCm3 * densityGPerCm3,
      edgesSoFar: edges.size,
    });
  });
  return {
    rows,
    total: rows[rows.length - 1] ?? null,
    ends: endsOf(spec, rows),
    unknown: [...unknown],
    assumptions: [...assumptions],
  };
}

function sum(soFar: number | null, more: number | null, between = 0): number | null {
  return soFar === null || more === null ? null : soFar + more + between;
}

/** Which edge cuts a run: a fresh one for each block, and for each level of a factor that is an edge. */
function edgeOf(spec: TrialSpec, run: Run): string {
  const own = spec.factors
    .filter((factor) => factor.kind === "category" && /\b(edge|insert|tool)s?\b/i.test(factor.name))
    .map((factor) => String(run.settings[factor.name]));
  return [run.block, ...own].join("\u0000");
}

function heldDensity(spec: TrialSpec): number | undefined {
  const density = spec.held["density"];
  const found = density === undefined ? null : /^\s*([\d.]+)\s*g\s*\/\s*cm(?:³|\^?3)\s*$/.exec(density);
  return found?.[1] === undefined ? undefined : Number(found[1]);
}

/** Sums that meet a budget to a part in a thousand million are on it, not over it: 30 × 0.1 is 3. */
const SLACK = 1e-9;

function endsOf(spec: TrialSpec, rows: readonly RunCost[]): readonly BudgetEnd[] {
  const { budget } = spec;
  if (!budget) return [];
  const stock = budget.stock === undefined ? undefined : stockMm(budget.stock);
  const end = (
    name: BudgetEnd["budget"],
    atHand: number | undefined,
    of: (row: RunCost, place: number) => number | null,
  ) => {
    if (atHand === undefined) return [];
    const first = rows.findIndex((row, place) => (of(row, place) ?? 0) > atHand * (1 + SLACK));
    const last = rows[rows.length - 1];
    if (first < 0 || !last) return [];
    return [{ budget: name, run: rows[first]?.run ?? 0, atHand, wanted: of(last, rows.length - 1) ?? 0 }];
  };
  return [
    ...end("passes", budget.passes, (_, place) => place + 1),
    ...end("minutes", budget.minutes, (row) => row.minutesSoFar),
    ...end("stock", stock, (row) => row.stockSoFarMm),
    ...end("edges", budget.edges, (row) => row.edgesSoFar),
  ];
}

function stockMm(text: string): number {
  return valueIn(parseQuantity(text, { dimension: "length" }), "mm");
}

/** The depth that is held, in mm; undefined where a factor or nothing states it. */
export function heldDepthMm(spec: TrialSpec): number | undefined {
  const held = heldQuantity(spec, "depth");
  if (!held || dimensionOf(held.unit) !== "length") return undefined;
  return valueIn(parseQuantity(spec.held["depth"] ?? "", { dimension: "length" }), "mm");
}
