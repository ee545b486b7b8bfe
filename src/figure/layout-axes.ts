import { categoryAxis, quantityAxis, type Axis } from "./axis.ts";
import { figureError } from "./error.ts";
import { plannedFactor, type SettingScale } from "./planned-runs.ts";
import type { Factor, Run } from "../trial/index.ts";

/** Which factor takes which direction of a layout figure, by name. */
export interface LayoutDirections {
  readonly along?: string;
  readonly up?: string;
  readonly beside?: string;
  readonly below?: string;
}

/** The scales along the frame, up it, and of the panels beside and below each other. */
export type LayoutAxes = {
  readonly along: SettingScale;
  readonly up: SettingScale | null;
  readonly beside: SettingScale | null;
  readonly below: SettingScale | null;
};

/** Quantities take the sides of the frame before categories do; panels go to factors of at most four settings. */
export function axesFor(
  runs: readonly Run[],
  factors: readonly Factor[],
  asked: LayoutDirections,
  scaled: (factor: Factor) => SettingScale,
): LayoutAxes {
  const free = [
    ...factors.filter((each) => each.kind === "quantity"),
    ...factors.filter((each) => each.kind === "category"),
  ];
  const named = [asked.along, asked.up, asked.beside, asked.below].filter((name) => name !== undefined);
  const take = (name: string | undefined, most: number): SettingScale | null => {
    const factor =
      name === undefined
        ? free.find((each) => !named.includes(each.name) && scaled(each).places.length <= most)
        : plannedFactor(factors, name);
    if (factor === undefined) return null;
    const scale = scaled(factor);
    if (scale.places.length > most) {
      throw figureError({
        given: `panels for ${factor.name}, which has ${scale.places.length} settings`,
        expected: `at most ${most} settings for panels`,
        mend: "Put it along or up the frame instead.",
      });
    }
    if (free.includes(factor)) free.splice(free.indexOf(factor), 1);
    return scale;
  };
  const along = take(asked.along, Infinity);
  if (along === null) {
    throw figureError({
      given: `${runs.length} runs`,
      expected: "a factor to draw along",
      mend: "Name one with `along`.",
    });
  }
  return { along, up: take(asked.up, Infinity), beside: take(asked.beside, 4), below: take(asked.below, 3) };
}

/** The axis of a panel `room` units long. */
export function axisOf(scale: SettingScale, room: number): Axis {
  if (scale.factor.kind === "category") return categoryAxis(scale.factor.name, scale.texts);
  const fixedTicks = scale.places.length > 1 && scale.places.length <= 8 ? scale.places : [];
  return quantityAxis({
    name: scale.factor.name,
    unit: scale.unit,
    values: scale.places,
    log: scale.log,
    fixedTicks,
    count: Math.max(3, room / 70),
    margin: 0.3,
  });
}
