import type { Settings } from "../../trial/index.ts";
import type { Predicate } from "../layout.ts";
import { settingOf } from "./axis.ts";
import type { DesignPoints } from "./design-state.ts";
import type { SearchModel } from "./search-model.ts";

/** True where a run of a design may be cut. */
export type Allowed = (points: DesignPoints, run: number) => boolean;

/** Combinations of candidates up to which the answers are kept in a table. */
const MOST_KEPT = 4_000_000;

/** Asks the predicates; answers for combinations of candidates are kept. Undefined where nothing is forbidden. */
export function allowedBy(model: SearchModel, predicates: readonly Predicate[]): Allowed | undefined {
  if (predicates.length === 0) return undefined;
  const width = model.factors.length;
  const counts = model.axes.map((axis) => axis.candidates.length);
  const combinations = counts.reduce((product, count) => product * count, 1);
  // 0 unknown, 1 allowed, 2 forbidden.
  const known = new Uint8Array(combinations <= MOST_KEPT ? combinations : 0);
  return (points, run) => {
    let key = 0;
    for (let factor = 0; factor < width && key >= 0; factor += 1) {
      const place = points.places[run * width + factor];
      key = place < 0 ? -1 : key * counts[factor] + place;
    }
    const kept = key >= 0 && key < known.length;
    if (kept && known[key] !== 0) return known[key] === 1;
    const settings = settingsOf(model, points, run);
    const fits = predicates.every((predicate) => predicate(settings) === null);
    if (kept) known[key] = fits ? 1 : 2;
    return fits;
  };
}

/** The settings of a run of a design. */
export function settingsOf(model: SearchModel, points: DesignPoints, run: number): Settings {
  const width = model.factors.length;
  return Object.fromEntries(
    model.axes.map((axis, place) => [
      axis.factor.name,
      settingOf(axis, points.coordinates[run * width + place]),
    ]),
  );
}
