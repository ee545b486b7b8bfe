import { z } from "zod";
import { passConditionsOf } from "../../cutting/index.ts";
import type { Run, TrialSpec } from "../../trial/index.ts";
import { borderRules, changesAtBorders } from "../order/borders.ts";
import { cutClock } from "../order/cut-clock.ts";
import { orderShape, type OrderOptions } from "../order/order-options.ts";

const orderSchema = z.object(orderShape);

/** The options about order that a trial's layout states; none where they can't be read, which its own check tells. */
export function orderOptionsOf(spec: TrialSpec): OrderOptions {
  const read = orderSchema.safeParse(spec.layout);
  return read.success ? read.data : {};
}

/**
 * A name for the edge that cuts each run, so that runs of one name share an edge: a fresh one at each border that the layout
 * states for edges; where it states no borders, one for each block; and one for each level of a factor that is an edge.
 */
export function edgesByRun(spec: TrialSpec, runs: readonly Run[], options: OrderOptions): readonly string[] {
  const own = spec.factors.filter(
    (factor) => factor.kind === "category" && /\b(edge|insert|tool)s?\b/i.test(factor.name),
  );
  const changed = edgeNumbers(spec, runs, options);
  return runs.map((run, index) =>
    [changed[index], ...own.map((factor) => String(run.settings[factor.name]))].join("\u0000"),
  );
}

function edgeNumbers(spec: TrialSpec, runs: readonly Run[], options: OrderOptions): readonly number[] {
  if (!options.borders) return runs.map((run) => run.block);
  if (!options.borders.edge) return runs.map(() => 1);
  const clock = cutClock(runs, { conditions: passConditionsOf(spec) });
  const lasts = options.borders.edge;
  // Where minutes can't be reckoned only the passes count; that they can't is told with the minutes.
  const known = clock.unit === "minutes" ? lasts : { passes: lasts.passes };
  if (known.passes === undefined && (clock.unit === "runs" || lasts.minutes === undefined)) {
    return runs.map((run) => run.block);
  }
  const borders = changesAtBorders(
    runs.map(({ settings }) => clock.of(settings)),
    runs.map(({ block }) => block),
    borderRules({ borders: { edge: known } }, clock),
  ).map(({ place }) => place);
  return runs.map((_, place) => 1 + borders.filter((border) => border <= place).length);
}
