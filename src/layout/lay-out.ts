import { listed } from "../units/index.ts";
import { passConditionsOf } from "../cutting/index.ts";
import type { Factor, Run, Settings, TrialSpec } from "../trial/index.ts";
import { LayoutError } from "./error.ts";
import { kindNamed } from "./kinds.ts";
import type { CommonOptions } from "./common-options.ts";
import type { Layout, LayoutContext, Predicate, StandardLayout } from "./layout.ts";
import { blocksForBorders } from "./order/blocks-for-borders.ts";
import { cutClock, type CutClock } from "./order/cut-clock.ts";
import { errorStrata, type ErrorStrata } from "./judge/error-strata.ts";
import { orderRuns } from "./order/order-runs.ts";
import { rounded } from "./rounded.ts";
import { strataOf } from "./split-plot/strata.ts";

/** What `layOut` reads of a trial; what is cut with (held, cutter, pass) only where a constraint asks for it. */
export interface LayoutRequest extends Partial<Omit<TrialSpec, "factors" | "layout">> {
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
 * `allow` holds constraints as functions, for kinds that take them.
 *
 * Example: `layOut({ factors: [feed, speed], layout: { kind: "factorial", replicates: 2 } }).runs.length` is 8.
 */
export function layOut(
  request: LayoutRequest,
  options: { readonly allow?: readonly Predicate[] } = {},
): Layout {
  const { factors, layout } = request;
  refuseSameNames(factors);
  const kind = kindNamed(layout.kind);
  const context = contextOf(request, options.allow ?? []);
  const made = kind.layOut(factors, layout, context);
  const clock = clockFor(request);
  const inBlocks = blocksForBorders(
    made,
    clock,
    (blocks) => kind.layOut(factors, { ...layout, blocks }, context),
    { hard: factors.some(({ change }) => change === "hard") },
  );
  return inOrder(request, inBlocks ?? made);
}

/** What a kind is told of the trial beside its factors and options. */
export function contextOf(request: LayoutRequest, predicates: readonly Predicate[]): LayoutContext {
  const { held, cutter, pass } = request;
  if (!held && !cutter && !pass) return { predicates };
  // Only what passConditionsOf reads is given; the rest of the trial plays no part in it.
  const spec = { held: {}, ...request } as TrialSpec;
  return { predicates, conditions: passConditionsOf(spec) };
}

/** The clock of this trial's runs: minutes of cut where it states enough. */
function clockFor(request: LayoutRequest): (runs: readonly { readonly settings: Settings }[]) => CutClock {
  const { conditions } = contextOf(request, []);
  return (runs) => cutClock(runs, { conditions, minutesBetween: request.budget?.minutesBetween });
}

/** Rounds a kind's runs to what the machine can set and puts them into cutting order. */
export function inOrder(
  request: LayoutRequest,
  { options, standard }: { readonly options: CommonOptions; readonly standard: StandardLayout },
): Layout {
  const { factors, layout } = request;
  const settable = rounded(factors, standard);
  const { runs, rules } = orderRuns(factors, settable, options, clockFor(request));
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
    strata: strataOf(runs, factors),
    ...(factors.some(({ change }) => change === "hard") ? { analysis: analysisOf(runs, factors) } : {}),
  };
}

/** The tests of main effects, with products of two factors where the runs can tell all of them. */
function analysisOf(runs: readonly Run[], factors: readonly Factor[]): ErrorStrata {
  const large = errorStrata(runs, factors, { model: "interactions" });
  const told = large.terms.every(({ comparedWith }) => !comparedWith.startsWith("not told"));
  return told ? large : errorStrata(runs, factors, { model: "main" });
}

export function refuseSameNames(factors: readonly Factor[]): void {
  const names = factors.map((factor) => factor.name);
  const twice = names.filter((name, index) => names.indexOf(name) !== index);
  if (twice.length === 0) return;
  throw new LayoutError(
    `factors: ${listed([...new Set(twice)].map((name) => `"${name}"`))} named more than once. Give each factor a name of its own.`,
  );
}
