import { listed } from "../../units/index.ts";
import type { Factor } from "../../trial/index.ts";
import { settingsKey } from "../levels.ts";
import type { StandardRun } from "../layout.ts";
import { driftColumns, driftCorrelation, mainContrasts, type DriftCorrelation } from "./drift.ts";
import { trendFreeOrder } from "./drift-construction.ts";
import { leastDriftOrder } from "./drift-search.ts";
import { fill, type Slot } from "./slots.ts";

interface Random {
  readonly next: () => number;
  readonly integer: (below: number) => number;
  readonly shuffle: <Item>(items: readonly Item[]) => readonly Item[];
}

interface DriftProofRequest {
  readonly factors: readonly Factor[];
  readonly slots: readonly Slot[];
  /** The runs of each block that need a place. */
  readonly open: ReadonlyMap<number, readonly StandardRun[]>;
  readonly random: Random;
  readonly seed: number;
}

/** Correlations below this are rounding of exact zeros. */
const ROUNDING = 1e-10;

/**
 * The order in which main effects move least with steady drift, then with bending drift: by construction where the runs of
 * a block are whole replicates of a two-level factorial or fraction, improved by a seeded search where that is not exact.
 */
export function driftProofOrder(request: DriftProofRequest): {
  readonly runs: readonly StandardRun[];
  readonly rules: readonly string[];
} {
  const { factors, slots, open, random, seed } = request;
  const built = new Map([...open].map(([block, runs]) => [block, constructed(factors, runs, random)]));
  const exact = [...built.values()].some((order) => order !== undefined);
  const started = fill(
    slots,
    new Map([...open].map(([block, runs]) => [block, built.get(block) ?? random.shuffle(runs)])),
  );
  const before = driftOf(factors, started);
  if (exact && worst(before, "linear") < ROUNDING && worst(before, "quadratic") < ROUNDING) {
    return { runs: started, rules: [ruleOf(before, "construction", seed)] };
  }
  const contrasts = mainContrasts(
    factors,
    started.map((run) => run.settings),
  ).map((estimand) => estimand.contrast);
  const order = leastDriftOrder(
    slots,
    contrasts,
    started.map((_, place) => place),
    random,
  );
  const searched = order.map((place) => started[place]).filter((run) => run !== undefined);
  const after = driftOf(factors, searched);
  const better = worst(after, "linear") < worst(before, "linear") + ROUNDING;
  return better
    ? { runs: searched, rules: [ruleOf(after, "search", seed)] }
    : { runs: started, rules: [ruleOf(before, exact ? "construction" : "search", seed)] };
}

/** Correlation of each main effect with drift in the order given. */
export function driftOf(
  factors: readonly Factor[],
  runs: readonly StandardRun[],
): readonly DriftCorrelation[] {
  const blocks = runs.map((run) => run.block);
  const drift = driftColumns(
    runs.map((_, place) => place),
    blocks,
  );
  return mainContrasts(
    factors,
    runs.map((run) => run.settings),
  ).map(({ label, contrast }) => ({
    label,
    linear: driftCorrelation(contrast, drift.linear, blocks),
    quadratic: driftCorrelation(contrast, drift.quadratic, blocks),
  }));
}

/** A block of whole replicates of a two-level factorial or fraction in trend-free order, replicate after replicate. */
function constructed(
  factors: readonly Factor[],
  runs: readonly StandardRun[],
  random: Random,
): readonly StandardRun[] | undefined {
  const moving = factors
    .map((factor) => [...new Set(runs.map((run) => run.settings[factor.name]))])
    .map((levels, index) => ({ name: factors[index]?.name ?? "", levels }))
    .filter(({ levels }) => levels.length > 1);
  if (moving.length === 0 || moving.length > 30 || moving.some(({ levels }) => levels.length !== 2))
    return undefined;
  const groups = new Map<string, StandardRun[]>();
  for (const run of runs) {
    const key = settingsKey(factors, run.settings);
    groups.set(key, [...(groups.get(key) ?? []), run]);
  }
  const distinct = [...groups.values()];
  const replicates = distinct[0]?.length ?? 0;
  if (distinct.some((group) => group.length !== replicates)) return undefined;
  const points = distinct.map((group) =>
    moving.reduce(
      (bits, { name, levels }, bit) => bits | (group[0]?.settings[name] === levels[1] ? 1 << bit : 0),
      0,
    ),
  );
  const orders: (readonly number[])[] = [];
  for (let replicate = 0; replicate < replicates; replicate += 1) {
    const found = trendFreeOrder(points, moving.length, random);
    if (!found) return undefined;
    orders.push(found.order);
  }
  return orders
    .flatMap((order, replicate) => order.map((point) => distinct[point]?.[replicate]))
    .filter((run) => run !== undefined);
}

function worst(drift: readonly DriftCorrelation[], degree: "linear" | "quadratic"): number {
  return drift.reduce((most, correlation) => Math.max(most, Math.abs(correlation[degree])), 0);
}

function ruleOf(drift: readonly DriftCorrelation[], made: "construction" | "search", seed: number): string {
  const how =
    made === "construction"
      ? `by construction, which of the equal orders drawn from seed ${seed}`
      : `by a search from seed ${seed}`;
  const [steady, bending] = [worst(drift, "linear") < ROUNDING, worst(drift, "quadratic") < ROUNDING];
  const says =
    steady && bending
      ? "neither a steady nor a bending drift moves a main effect"
      : `${sentencePart(drift, "linear", "steady")}; ${sentencePart(drift, "quadratic", "bending")}`;
  return `Drift-proof order ${how}: ${says}.`;
}

function sentencePart(
  drift: readonly DriftCorrelation[],
  degree: "linear" | "quadratic",
  word: "steady" | "bending",
): string {
  const most = worst(drift, degree);
  if (most < ROUNDING) return `a ${word} drift moves no main effect`;
  const names = drift
    .filter((correlation) => Math.abs(correlation[degree]) > most - ROUNDING)
    .map(({ label }) => label);
  return `the largest correlation of a main effect with a ${word} drift is ${most.toFixed(3)} (${listed(names)})`;
}
