import type { Setting } from "../../trial/index.ts";
import { assuranceAt, boundMultiple, shareWithin } from "./bound-multiple.ts";
import type { Decision } from "./decision.ts";
import type { LimitKept, Stop } from "./joint-recipe.ts";
import type { SearchEnd } from "./grid-search.ts";
import { dfFor } from "./point-evaluator.ts";
import { settingsAt } from "./pass-score.ts";
import { requireReached } from "../usual-size.ts";

/** Each limit at stated settings, by the exact bound. */
export function keptLimits(
  { limits, evaluators }: Decision,
  settings: Readonly<Record<string, Setting>>,
  binding: ReadonlySet<string>,
): readonly Omit<LimitKept, "text">[] {
  return limits.map((limit, k) => {
    const evaluator = evaluators[k];
    const sd = evaluator.sd ?? 0;
    const point = evaluator.centre();
    for (const [name, setting] of Object.entries(settings)) evaluator.set(point, name, setting);
    const out = new Float64Array(4);
    evaluator.evaluate(point, out);
    const [estimate, leverage] = out;
    const df = dfFor(limit.for, evaluator, out);
    const multiple = sd === 0 ? 0 : boundMultiple(limit, leverage, df);
    const back = (value: number): number => (evaluator.logScale ? Math.exp(value) : value);
    const sign = limit.side === "at-most" ? 1 : -1;
    const bound = estimate + sign * multiple * sd;
    const away = sign * ((evaluator.logScale ? Math.log(limit.limit) : limit.limit) - estimate);
    const inside = sd === 0 ? (away >= 0 ? Infinity : -Infinity) : away / sd;
    const margin = sign * (limit.limit - back(bound));
    const marginInSd = sd === 0 ? null : inside - multiple;
    requireReached([back(estimate), back(bound)], `the bound of ${limit.response}`);
    return {
      ...limit,
      estimate: back(estimate),
      bound: back(bound),
      margin,
      marginInSd,
      isKept: marginInSd === null ? away >= -1e-12 * Math.abs(limit.limit) : marginInSd >= 0,
      assuranceThere: sd === 0 ? (inside > 0 ? 1 : 0) : assuranceAt(limit, inside, leverage, df),
      shareThere: shareWithin(inside),
      binds: binding.has(limit.response),
    };
  });
}

/** What stops each quantity from one more increment in the direction that gains. */
export function stopsAt({ space, judges, scores }: Decision, end: SearchEnd): readonly Stop[] {
  const { score, isAllowed } = scores[end.which];
  const here = score(end.place);
  return space.axes.flatMap(({ name, settings, step }, axis): Stop[] => {
    // At an end of the grid the direction that gains is seen from the other side.
    const at = end.place[axis];
    const moved = (by: number): Int32Array => {
      const place = Int32Array.from(end.place);
      place[axis] += by;
      return place;
    };
    const rises = at + 1 < settings.length ? score(moved(1)) - here : at > 0 ? here - score(moved(-1)) : 0;
    if (!(Math.abs(rises) > 1e-12 * Math.abs(here))) return [];
    const by = rises > 0 ? 1 : -1;
    const direction = by > 0 ? ("up" as const) : ("down" as const);
    if (at + by < 0 || at + by >= settings.length)
      return [{ factor: name, direction, next: null, by: ["range"] }];
    const place = moved(by);
    const there = settingsAt(space, end.which, place);
    const responses = judges
      .filter(({ evaluator, inside }) => {
        const point = evaluator.centre();
        for (const [each, setting] of Object.entries(there)) evaluator.set(point, each, setting);
        const room = inside(point);
        return room < 0 && room > -Infinity;
      })
      .map(({ asked }) => asked.response);
    const names = [...responses, ...(isAllowed(place) ? [] : ["machine"])];
    // What stands beyond every run's leverage is the end of what was cut as well.
    return [
      {
        factor: name,
        direction,
        next: settings[at + by],
        by: names.length === 0 && step > 0 ? ["range"] : names,
      },
    ];
  });
}
