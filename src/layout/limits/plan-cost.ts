import { passConditionsOf, type PassConditions } from "../../cutting/index.ts";
import { heldQuantity, type Run, type Settings, type TrialSpec } from "../../trial/index.ts";
import { convert, dimensionOf, parseQuantity, valueIn } from "../../units/index.ts";
import { middleSettings } from "../levels.ts";
import { edgesByRun, orderOptionsOf } from "./edges.ts";

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
  /** Passes that warm the machine up before run 1, at the middle of every factor; they are in every sum. */
  readonly warmUpPasses: number;
  readonly ends: readonly BudgetEnd[];
  /** What could not be reckoned, and what to state so that it can. */
  readonly unknown: readonly string[];
  readonly assumptions: readonly string[];
}

/**
 * Minutes, stock, chips and edges of a plan, run by run and summed in cutting order, with the run where each budget ends.
 *
 * Use it on a plan before it is written, and for the run sheet. Minutes are those at feed speed plus `budget.minutesBetween`
 * between two passes; stock is the depth of every pass added up; chips are depth by width by length of cut (turned: removal
 * rate by minutes over the length), without approach and overtravel, by mass with the density held as "material density"
 * ("2.7 g/cm³", "7850 kg/m³"). Edges: where the layout says how long one lasts, a fresh one at each of those borders; else, where it
 * names no other borders, a fresh one for each block; a factor named edge, insert or tool takes one more for each level.
 * What can't be reckoned is null, with the reason in `unknown`.
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
  const { warmUp, ...order } = orderOptionsOf(spec);
  const edgeBefore = edgesByRun(spec, runs, order);
  const warmUpPasses = warmUp && !warmUp.analysed && runs.length > 0 ? warmUp.passes : 0;
  const rows: RunCost[] = [];
  let [minutesSoFar, stockSoFarMm, chipsSoFarCm3]: (number | null)[] = [0, 0, 0];
  const take = (settings: Settings, isFirst: boolean) => {
    const pass = conditions(settings);
    for (const { what, why } of pass.missing) {
      if (what === "minutes" && why) unknown.add(`Minutes can't be reckoned. ${why}`);
    }
    for (const assumption of pass.assumptions) assumptions.add(assumption);
    if (spec.budget?.stock !== undefined && pass.depthMm === null) {
      unknown.add(
        'Stock can\'t be reckoned. Wants the depth of cut: a factor named depth, or held, such as "depth": "0.1 mm".',
      );
    }
    const chipsCm3 = chipsOf(pass);
    minutesSoFar = sum(minutesSoFar, pass.minutes, isFirst ? 0 : between);
    stockSoFarMm = sum(stockSoFarMm, pass.depthMm);
    chipsSoFarCm3 = sum(chipsSoFarCm3, chipsCm3);
    return { pass, chipsCm3 };
  };
  for (let pass = 0; pass < warmUpPasses; pass += 1) take(middleSettings(spec.factors), pass === 0);
  runs.forEach((run, index) => {
    const { pass, chipsCm3 } = take(run.settings, index + warmUpPasses === 0);
    edges.add(edgeBefore[index] ?? "");
    rows.push({
      run: run.run,
      minutes: pass.minutes,
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
    warmUpPasses,
    ends: endsOf(spec, rows, warmUpPasses),
    unknown: [...unknown],
    assumptions: [...assumptions],
  };
}

function sum(soFar: number | null, more: number | null, between = 0): number | null {
  return soFar === null || more === null ? null : soFar + more + between;
}

/** What one pass turns into chips, in cm³: over the length that is cut, which the travel at feed speed exceeds. */
function chipsOf({ removalRateCm3PerMin, lengthMm, feedSpeedMmPerMin }: PassConditions): number | null {
  if (removalRateCm3PerMin === null || lengthMm === null || feedSpeedMmPerMin === null) return null;
  return removalRateCm3PerMin * (lengthMm / feedSpeedMmPerMin);
}

function heldDensity(spec: TrialSpec): number | undefined {
  for (const name of ["material density", "density"]) {
    const density = heldQuantity(spec, name);
    if (density && dimensionOf(density.unit) === "density")
      return convert(density.value, density.unit, "g/cm³");
  }
  return undefined;
}

/** Sums that meet a budget to a part in a thousand million are on it, not over it: 30 × 0.1 is 3. */
const SLACK = 1e-9;

function endsOf(spec: TrialSpec, rows: readonly RunCost[], warmUpPasses: number): readonly BudgetEnd[] {
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
    ...end("passes", budget.passes, (_, place) => place + 1 + warmUpPasses),
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
