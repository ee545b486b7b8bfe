import type { Factor } from "../trial/index.ts";
import { LayoutError, listed } from "./error.ts";
import { kindNamed } from "./kinds.ts";
import type { Layout } from "./layout.ts";
import { orderRuns } from "./order/order-runs.ts";
import { rounded } from "./rounded.ts";

/** What `layOut` reads of a trial. */
export interface LayoutRequest {
  readonly factors: readonly Factor[];
  readonly layout: { readonly kind: string } & Readonly<Record<string, unknown>>;
}

/**
 * Lays out the runs of a trial and puts them into cutting order.
 *
 * Use it to plan: the same specification always gives the same plan, because the seed is part of it. `factors` and `layout`
 * are those of `trial.json`; a whole `TrialSpec` will do. Returns the runs in cutting order, what the kind says about itself
 * (generators, resolution, aliases) and a sentence for each rule that the order obeys. Refuses, with a `LayoutError`, an
 * unknown kind or option, runs that can't be had, and two factors of one name; nothing is checked against the machine here
 * (see `checkLimits`).
 *
 * Example: `layOut({ factors: [feed, speed], layout: { kind: "factorial", replicates: 2 } }).runs.length` is 8.
 */
export function layOut(request: LayoutRequest): Layout {
  const { factors, layout } = request;
  refuseSameNames(factors);
  const { options, standard } = kindNamed(layout.kind).layOut(factors, layout);
  const settable = rounded(factors, standard);
  const { runs, rules } = orderRuns(factors, settable, options);
  return {
    ...(standard.generators ? { generators: standard.generators } : {}),
    ...(standard.definingRelation ? { definingRelation: standard.definingRelation } : {}),
    ...(standard.resolution === undefined ? {} : { resolution: standard.resolution }),
    ...(standard.aliases ? { aliases: standard.aliases } : {}),
    notes: settable.notes,
    kind: layout.kind,
    options,
    runs,
    orderRules: rules,
  };
}

function refuseSameNames(factors: readonly Factor[]): void {
  const names = factors.map((factor) => factor.name);
  const twice = names.filter((name, index) => names.indexOf(name) !== index);
  if (twice.length === 0) return;
  throw new LayoutError(
    `factors: ${listed([...new Set(twice)].map((name) => `"${name}"`))} named more than once. Give each factor a name of its own.`,
  );
}
