import type { Factor } from "../../trial/index.ts";
import type { StandardRun } from "../layout.ts";
import type { Term } from "../../model/index.ts";
import { driftColumns, driftCorrelation, protectedContrasts, type DriftCorrelation } from "./drift.ts";
import { constructed } from "./constructed-order.ts";
import { driftRule } from "./drift-sentences.ts";
import { ROUNDING } from "./order-measure.ts";
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
  /** Terms to keep clear of drift; the main effects where they are left out. */
  readonly protect?: readonly Term[] | undefined;
}

/**
 * The order in which main effects move least with steady drift, then with bending drift: by construction where the runs of
 * a block are whole replicates of a two-level factorial or fraction, improved by a seeded search where that is not exact.
 */
export function driftProofOrder(request: DriftProofRequest): {
  readonly runs: readonly StandardRun[];
  readonly rules: readonly string[];
} {
  const { factors, slots, open, random, seed, protect } = request;
  const built = new Map(
    [...open].map(([block, runs]) => [block, constructed(factors, runs, random, { protect })]),
  );
  const exact = [...built.values()].some((order) => order !== undefined);
  const started = fill(
    slots,
    new Map([...open].map(([block, runs]) => [block, built.get(block) ?? random.shuffle(runs)])),
  );
  const before = driftOf(factors, started, protect);
  if (exact && worst(before, "linear") < ROUNDING && worst(before, "quadratic") < ROUNDING) {
    return { runs: started, rules: [driftRule(before, "construction", { seed, protect })] };
  }
  const contrasts = protectedContrasts(
    factors,
    started.map((run) => run.settings),
    protect,
  ).map((estimand) => estimand.contrast);
  const order = leastDriftOrder(
    slots,
    contrasts,
    started.map((_, place) => place),
    random,
  );
  const searched = order.map((place) => started[place]).filter((run) => run !== undefined);
  const after = driftOf(factors, searched, protect);
  const better = worst(after, "linear") < worst(before, "linear") + ROUNDING;
  return better
    ? { runs: searched, rules: [driftRule(after, "search", { seed, protect })] }
    : { runs: started, rules: [driftRule(before, exact ? "construction" : "search", { seed, protect })] };
}

/** Correlation of each protected term with drift in the order given, counted in runs. */
function driftOf(
  factors: readonly Factor[],
  runs: readonly StandardRun[],
  protect: readonly Term[] | undefined,
): readonly DriftCorrelation[] {
  const blocks = runs.map((run) => run.block);
  const drift = driftColumns(
    runs.map((_, place) => place),
    blocks,
  );
  return protectedContrasts(
    factors,
    runs.map((run) => run.settings),
    protect,
  ).map(({ label, contrast }) => ({
    label,
    linear: driftCorrelation(contrast, drift.linear, blocks),
    quadratic: driftCorrelation(contrast, drift.quadratic, blocks),
  }));
}

function worst(drift: readonly DriftCorrelation[], degree: "linear" | "quadratic"): number {
  return drift.reduce((most, correlation) => Math.max(most, Math.abs(correlation[degree])), 0);
}
