import { idealRa } from "../cutting/index.ts";
import { convert, dimensionOf, parseQuantity, valueIn } from "../units/index.ts";
import type { Settings, TrialSpec } from "../trial/index.ts";

/** Feed per revolution of a run in mm, from the factor that is a feed or from what was held; null where the trial has none. */
export function feedMmPerRev(spec: TrialSpec, settings: Settings): number | null {
  const factor = spec.factors.find(
    (one) => one.kind === "quantity" && dimensionOf(one.unit) === dimensionOf("mm/rev"),
  );
  if (factor?.kind === "quantity") return convert(Number(settings[factor.name]), factor.unit, "mm/rev");
  const held = spec.held["feed"];
  return held === undefined ? null : valueIn(parseQuantity(held, { unit: "mm/rev" }), "mm/rev");
}

/**
 * The least Ra in µm that the nose radius can leave at a run's feed: the ideal of the feed per tooth, since all teeth may stand level; null
 * where feed or nose radius are not stated or the feed passes the nose arc.
 */
export function idealRaUm(spec: TrialSpec, settings: Settings): number | null {
  const feed = feedMmPerRev(spec, settings);
  const typed = spec.cutter?.noseRadius;
  if (feed === null || typed === undefined) return null;
  const radius = valueIn(parseQuantity(typed, { unit: "mm" }), "mm");
  const perTooth = feed / (spec.cutter?.teeth ?? 1);
  return perTooth > 0 && perTooth < 2 * radius ? idealRa(perTooth, radius) : null;
}
