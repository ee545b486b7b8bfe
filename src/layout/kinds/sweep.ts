import { listed } from "../../units/index.ts";
import { z } from "zod";
import type { Factor, QuantityFactor, Setting, Settings } from "../../trial/index.ts";
import { commonShape, wholeNumber } from "../common-options.ts";
import { blocksOfReplicates, numbered } from "../deal.ts";
import { defineKind, refuseTooManyRuns } from "../define-kind.ts";
import { LayoutError } from "../error.ts";
import { codedSetting, middleSettings, settingAt, settingWords, spacedLevels, spacingOf } from "../levels.ts";
import type { StandardLayout } from "../layout.ts";

const schema = z.strictObject({
  kind: z.literal("sweep"),
  ...commonShape,
  /** Which factor moves; left out, the first one that is a quantity. The others are held. */
  factor: z.string().optional(),
  /** The settings to cut; left out, the factor's own `levels`, else `points` of them over its range. */
  levels: z
    .array(z.union([z.number(), z.string()]))
    .min(2)
    .max(1000)
    .optional(),
  points: wholeNumber(2, 1000).default(5),
  /** Left out, what the factor's scale asks for: even on a linear scale, in ratio on a logarithmic one. */
  spacing: z.enum(["even", "ratio"]).optional(),
  /** An anchor run first, after every so many runs, and last; 0 for none. */
  anchorEvery: wholeNumber(0, 1000).default(0),
  /** Where the anchor stands; left out, the middle one of the levels. */
  anchor: z.union([z.number(), z.string()]).optional(),
  /** Settings of the factors that stay still; left out, the middle of a quantity and the first level of a category. */
  hold: z.record(z.string(), z.union([z.number(), z.string()])).default({}),
});

type SweepOptions = z.output<typeof schema>;

export const sweep = defineKind({
  kind: "sweep",
  summary: "One factor moves over its range and the others are held: for the shape of one curve.",
  schema,
  layOut: (factors, options): StandardLayout => {
    const moving = movingFactor(factors, options.factor);
    const levels = sweptLevels(moving, options);
    const held = heldSettings(factors, moving, options.hold);
    const blockOf = blocksOfReplicates("sweep", options.replicates, options.blocks);
    refuseTooManyRuns("sweep", levels.length, options.replicates);
    const cut = blockOf.flatMap((block) =>
      levels.map((level) => ({
        block,
        role: "level" as const,
        settings: inOrder(factors, { ...held, [moving.name]: level }),
      })),
    );
    const centre = sweepCentre(moving, options).map((level, index) => ({
      block: (index % options.blocks) + 1,
      role: "centre" as const,
      settings: inOrder(factors, { ...held, [moving.name]: level }),
    }));
    const anchor = anchorSetting(moving, levels, options);
    return {
      runs: numbered([...cut, ...centre]),
      ...(anchor === undefined
        ? {}
        : {
            anchor: {
              settings: inOrder(factors, { ...held, [moving.name]: anchor }),
              every: options.anchorEvery,
            },
          }),
      notes: heldNotes(factors, moving, held),
    };
  },
});

function movingFactor(factors: readonly Factor[], name: string | undefined): Factor {
  const found =
    name === undefined
      ? (factors.find((factor) => factor.kind === "quantity") ?? factors[0])
      : factors.find((factor) => factor.name === name);
  if (found) return found;
  throw new LayoutError(
    name === undefined
      ? 'layout "sweep": the trial has no factor. Add one to "factors".'
      : `layout.factor: "${name}" is not a factor of this trial. It has ${listed(factors.map((factor) => factor.name))}.`,
  );
}

function sweptLevels(moving: Factor, options: SweepOptions): readonly Setting[] {
  if (moving.kind === "category") {
    for (const level of options.levels ?? [])
      refuseUnknownLevel(moving.levels, moving.name, level, "layout.levels");
    return options.levels ?? moving.levels;
  }
  if (options.levels) {
    for (const level of options.levels) refuseOutside(moving, level, "layout.levels");
    return options.levels;
  }
  return moving.levels ?? spacedLevels(moving, options.points, options.spacing ?? spacingOf(moving));
}

function sweepCentre(moving: Factor, options: SweepOptions): readonly number[] {
  if (options.centrePoints === 0) return [];
  if (moving.kind === "category") {
    throw new LayoutError(
      `layout "sweep": centrePoints is ${options.centrePoints}, but ${moving.name} is a category and has no middle. Set centrePoints to 0.`,
    );
  }
  return Array.from({ length: options.centrePoints }, () => settingAt(moving, 0));
}

function anchorSetting(
  moving: Factor,
  levels: readonly Setting[],
  options: SweepOptions,
): Setting | undefined {
  if (options.anchorEvery === 0) {
    if (options.anchor === undefined) return undefined;
    throw new LayoutError(
      `layout.anchor: an anchor at ${JSON.stringify(options.anchor)} needs anchorEvery, the number of runs between two anchors. Add "anchorEvery": 4.`,
    );
  }
  if (options.anchor === undefined) return levels[Math.floor((levels.length - 1) / 2)];
  if (moving.kind === "category")
    refuseUnknownLevel(moving.levels, moving.name, options.anchor, "layout.anchor");
  else refuseOutside(moving, options.anchor, "layout.anchor");
  return options.anchor;
}

function heldSettings(factors: readonly Factor[], moving: Factor, hold: Settings): Settings {
  for (const [name, setting] of Object.entries(hold)) {
    const factor = factors.find((candidate) => candidate.name === name);
    if (!factor || factor === moving) {
      const others = factors.filter((candidate) => candidate !== moving).map((candidate) => candidate.name);
      throw new LayoutError(
        `layout.hold: "${name}" is not a factor that this sweep holds. It holds ${others.length > 0 ? listed(others) : "none"}.`,
      );
    }
    if (factor.kind === "category") refuseUnknownLevel(factor.levels, name, setting, "layout.hold");
    else refuseOutside(factor, setting, "layout.hold");
  }
  return { ...middleSettings(factors), ...hold };
}

function heldNotes(factors: readonly Factor[], moving: Factor, held: Settings): readonly string[] {
  const still = factors.filter((factor) => factor !== moving);
  if (still.length === 0) return [];
  const words = still.map((factor) =>
    factor.kind === "quantity"
      ? `${factor.name} at ${settingWords(factor, held[factor.name])}`
      : `${factor.name} ${held[factor.name]}`,
  );
  return [`Only ${moving.name} moves; held: ${listed(words)}.`];
}

function inOrder(factors: readonly Factor[], settings: Settings): Settings {
  return Object.fromEntries(factors.map((factor) => [factor.name, settings[factor.name] ?? ""]));
}

function refuseOutside(factor: QuantityFactor, setting: Setting, path: string): void {
  codedSetting(factor, setting);
  if (typeof setting === "number" && setting >= factor.low && setting <= factor.high) return;
  throw new LayoutError(
    `${path}: ${factor.name} at ${setting} ${factor.unit} lies outside its range of ${factor.low} to ${factor.high} ${factor.unit}. Change the setting or the range.`,
  );
}

function refuseUnknownLevel(levels: readonly string[], name: string, setting: Setting, path: string): void {
  if (typeof setting === "string" && levels.includes(setting)) return;
  throw new LayoutError(
    `${path}: ${JSON.stringify(setting)} is not a level of ${name}. Its levels are ${listed(levels.map((level) => `"${level}"`))}.`,
  );
}
