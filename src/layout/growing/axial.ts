import { termsOf } from "../../model/index.ts";
import type { QuantityFactor, Run, Settings } from "../../trial/index.ts";
import { listed } from "../../units/index.ts";
import { LayoutError, LimitError } from "../error.ts";
import {
  codedSetting,
  middleSettings,
  quantitiesOf,
  settingAt,
  settingsKey,
  settingWords,
} from "../levels.ts";
import { checkLimits } from "../limits/check-limits.ts";
import { axialDistance } from "../surface/axial-distance.ts";
import { cornersOf, plannedLevels } from "./cut.ts";
import type { Cut, Wanted } from "./growth.ts";
import type { HowBy } from "./how.ts";

/**
 * Axial runs and centre runs onto corners that were cut: two runs on the axis of each quantity at every combination of the
 * categories, and centre runs, so that a curved surface can be fitted. The distance follows Box and Hunter (Annals of
 * Mathematical Statistics 28, 1957, 195–241), with the corners and centre runs as they were cut.
 */
export function wantedByAxial(cut: Cut, how: HowBy<"axial">): Wanted {
  const corners = cornersOf(cut);
  const quantities = movedQuantities(cut, corners);
  const combinations = combinationsCut(cut, corners);
  const distance = distanceOf(cut, how, { quantities, combinations });
  if (distance > 1 && how.range === "limits") throw inscribed(distance);
  refuseBeyond(quantities, distance);
  const at = (categories: Settings, moved: Settings): Settings => ({
    ...middleSettings(cut.factors, categories),
    ...stillOf(cut, corners, quantities),
    ...moved,
  });
  const axial = combinations.flatMap((categories) =>
    quantities.flatMap((factor) =>
      [-distance, distance].map((place) => ({
        role: "axial" as const,
        settings: at(categories, { [factor.name]: settingAt(factor, place) }),
      })),
    ),
  );
  const centre = combinations.flatMap((categories) =>
    Array.from({ length: how.centrePoints }, () => ({
      role: "centre" as const,
      settings: at(categories, {}),
    })),
  );
  refuseOverLimit(cut, axial, distance);
  return {
    runs: [...axial, ...centre],
    notes: [
      distanceNote(how, distance, quantities),
      ...eachCombination(combinations.length, how.centrePoints),
    ],
    terms: how.terms ?? termsOf("surface", movedFactors(cut)),
    brings: [...separationSentences(cut, how, { corners, quantities, axial, centre })],
  };
}

interface Corners {
  readonly corners: readonly Run[];
  readonly quantities: readonly QuantityFactor[];
  readonly combinations: readonly Settings[];
}

function movedQuantities(cut: Cut, corners: readonly Run[]): readonly QuantityFactor[] {
  const moved = quantitiesOf(cut.factors).filter((factor) => plannedLevels(factor, corners).length > 1);
  if (moved.length < 2) {
    throw new LayoutError(
      `grow by axial: ${moved.length === 0 ? "no quantity is" : `only ${moved[0]?.name} is`} cut at two settings; axial runs need two quantities or more. ${moved.length === 0 ? "" : 'With one, cut centre runs: "tie", or lay out a sweep.'}`.trim(),
    );
  }
  const curved = moved.filter((factor) => plannedLevels(factor, corners).length > 2);
  if (curved.length > 0) {
    throw new LayoutError(
      `grow by axial: ${listed(curved.map(({ name }) => name))} ${curved.length === 1 ? "is" : "are"} cut at three settings or more already, so that a curve can be seen. Use "replicate" to narrow it.`,
    );
  }
  const off = moved.find((factor) =>
    plannedLevels(factor, corners).some(
      (level) => Math.abs(Math.abs(codedSetting(factor, level)) - 1) > 1e-9,
    ),
  );
  if (off) {
    throw new LayoutError(
      `grow by axial: the runs cut ${off.name} at ${listed(plannedLevels(off, corners).map((level) => settingWords(off, level)))}, and its range is ${off.low} to ${off.high} ${off.unit}; axial runs stand about the middle of the range. Set low and high in trial.json to what was cut.`,
    );
  }
  return moved;
}

function movedFactors(cut: Cut) {
  return cut.factors.filter((factor) => plannedLevels(factor, cut.planned).length > 1);
}

/** Quantities that stayed at one setting in the corners stay there. */
function stillOf(cut: Cut, corners: readonly Run[], moved: readonly QuantityFactor[]): Settings {
  return Object.fromEntries(
    quantitiesOf(cut.factors)
      .filter((factor) => !moved.includes(factor))
      .map((factor) => [factor.name, corners[0]?.settings[factor.name] ?? ""]),
  );
}

/** The combinations of categories that were cut: axial runs stand at each. */
function combinationsCut(cut: Cut, corners: readonly Run[]): readonly Settings[] {
  const categories = cut.factors.filter(({ kind }) => kind === "category");
  const seen = new Map<string, Settings>();
  for (const { settings } of corners) {
    const own = Object.fromEntries(categories.map(({ name }) => [name, settings[name] ?? ""]));
    seen.set(settingsKey(categories, own), own);
  }
  return [...seen.values()];
}

function distanceOf(
  cut: Cut,
  how: HowBy<"axial">,
  { quantities, combinations }: Omit<Corners, "corners">,
): number {
  // So many corners' worth of coded squares: single runs that were added at corners count with them.
  const squares = quantities.map((factor) =>
    cut.planned.reduce((sum, run) => sum + codedSetting(factor, run.settings[factor.name]) ** 2, 0),
  );
  const corners = squares.reduce((sum, value) => sum + value, 0) / squares.length;
  const centreInCube = cut.planned.length - corners;
  const size = {
    factors: quantities.length,
    // Everything of one combination of the categories: the distance is the same at each.
    corners: corners / combinations.length,
    centreInCube: centreInCube / combinations.length,
    centreInAxial: how.centrePoints,
    blocks: 2,
  };
  return axialDistance(how.axial, size);
}

function inscribed(distance: number): LayoutError {
  return new LayoutError(
    `grow by axial: the axial runs would stand at ${shown(distance)} times the half range, and nothing may be cut beyond low and high. Corners that are cut already can't be drawn in, so an inscribed layout is impossible now: take "axial": "face" (a distance of 1).`,
  );
}

function refuseBeyond(quantities: readonly QuantityFactor[], distance: number): void {
  for (const factor of quantities) {
    const least = settingAt(factor, -distance);
    if (factor.low > 0 && least <= 0) {
      throw new LayoutError(
        `grow.axial: at ${shown(distance)} times the half range ${factor.name} would be ${least} ${factor.unit}. Take "axial": "face", or a distance below ${shown(lastAboveZero(factor))}.`,
      );
    }
  }
}

/** Where a setting reaches zero on a linear scale. */
function lastAboveZero(factor: QuantityFactor): number {
  return (factor.high + factor.low) / (factor.high - factor.low);
}

/** A run beyond a limit is refused with the way that stays inside it. */
function refuseOverLimit(cut: Cut, axial: readonly Pick<Run, "role" | "settings">[], distance: number): void {
  if (cut.spec === null || distance <= 1) return;
  const from = cut.planned.length;
  try {
    checkLimits(
      { ...cut.spec, budget: {} },
      axial.map((run, index) => ({ ...run, run: from + index + 1, standard: index + 1, block: 1 })),
    );
  } catch (cause) {
    if (!(cause instanceof LimitError)) throw cause;
    const text = cause.findings
      .map((finding) => finding.text.replace(/^Run \d+ asks/, "An axial run asks"))
      .join("\n");
    throw new LayoutError(
      `grow by axial: at ${shown(distance)} times the half range a limit is passed.\n${text}\nThe corners are cut already and can't be drawn in, so an inscribed layout is impossible now: take "axial": "face", which stays between low and high. Nothing was written.`,
      { cause },
    );
  }
}

function distanceNote(how: HowBy<"axial">, distance: number, quantities: readonly QuantityFactor[]): string {
  const ends = quantities.map(
    (factor) =>
      `${factor.name} ${settingWords(factor, settingAt(factor, -distance))} and ${settingWords(factor, settingAt(factor, distance))}`,
  );
  const rule = typeof how.axial === "number" ? "as given" : how.axial;
  return `Axial runs stand at ${shown(distance)} times the half range (${rule}): ${listed(ends)}${distance > 1 ? ", outside low and high" : ""}.`;
}

function eachCombination(combinations: number, centre: number): readonly string[] {
  if (combinations < 2) return [];
  return [
    `Axial runs${centre > 0 ? ` and ${centre} centre run${centre === 1 ? "" : "s"}` : ""} at each of the ${combinations} combinations of categories.`,
  ];
}

/**
 * Whether the step from block to block stays out of the curves: the mean of each coded square must be the same in both
 * blocks. Counted from the runs as they were cut and as the new ones will be set.
 */
function separationSentences(
  cut: Cut,
  how: HowBy<"axial">,
  {
    quantities,
    axial,
    centre,
  }: Pick<Corners, "corners" | "quantities"> & {
    readonly axial: readonly Pick<Run, "settings">[];
    readonly centre: readonly Pick<Run, "settings">[];
  },
): readonly string[] {
  if (how.block === "last") return [];
  const meanSquare = (factor: QuantityFactor, runs: readonly Pick<Run, "settings">[]) =>
    runs.reduce((sum, run) => sum + codedSetting(factor, run.settings[factor.name]) ** 2, 0) / runs.length;
  const added = [...axial, ...centre];
  const worst = quantities.reduce(
    (most, factor) => Math.max(most, Math.abs(meanSquare(factor, cut.asCut) - meanSquare(factor, added))),
    0,
  );
  if (worst < 1e-9)
    return ["The step from block to block stays wholly out of every effect and curve (orthogonal blocks)."];
  return [
    `The step from block to block mixes a little with the curves (the mean coded square differs by ${worst.toFixed(2)} between the blocks); the block's own level in the analysis takes it out at the cost of some width.`,
  ];
}

function shown(distance: number): string {
  return String(Number(distance.toFixed(4)));
}
