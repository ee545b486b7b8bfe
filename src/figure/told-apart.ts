import type { Fit, ObservedFactor } from "../model/index.ts";
import type { Setting } from "../trial/index.ts";

/** Whether the fit can tell what this factor does by itself: it is in the model, and no other factor moved along with it. */
export function toldApart(fit: Fit, factor: ObservedFactor): boolean {
  const own = (term: Readonly<Record<string, number>>): boolean => {
    const names = Object.keys(term);
    // A category's term names the level: "edge=used".
    return names.length === 1 && (names[0] === factor.name || names[0].startsWith(`${factor.name}=`));
  };
  const effects = fit.effects.filter((effect) => effect.factor === factor.name);
  return (
    effects.length > 0 &&
    effects.every(({ value }) => value.estimate !== null) &&
    !fit.inseparable.some(({ terms }) => terms.some(own))
  );
}

/**
 * Where factors stand that nobody placed. Those that can be told apart are left to the fit (middle, or first level); those that moved
 * together stand as they did most often, since anywhere else nothing is known.
 */
export function placedOthers(
  fit: Fit,
  at: Readonly<Record<string, Setting>>,
  free: readonly string[],
): Readonly<Record<string, Setting>> {
  const placed: Record<string, Setting> = { ...at };
  if (fit.inseparable.length === 0) return placed;
  const others = fit.factors.filter(
    (factor) => !(factor.name in at) && !free.includes(factor.name) && !toldApart(fit, factor),
  );
  // Together, so that the combination is one that was cut.
  const counts = new Map<string, { settings: readonly Setting[]; count: number }>();
  for (const row of fit.rows) {
    const settings = others.map((factor) => row.settings[factor.name]);
    const key = JSON.stringify(settings);
    const held = counts.get(key);
    if (held === undefined) counts.set(key, { settings, count: 1 });
    else held.count += 1;
  }
  const most = [...counts.values()].reduce((best, each) => (each.count > best.count ? each : best));
  others.forEach((factor, index) => (placed[factor.name] = most.settings[index]));
  return placed;
}
