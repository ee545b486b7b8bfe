import { listed } from "../../units/index.ts";
import { z } from "zod";
import type { Factor } from "../../trial/index.ts";
import { commonShape, wholeNumber } from "../common-options.ts";
import { numbered, type UnnumberedRun } from "../deal.ts";
import { defineKind, refuseTooManyRuns } from "../define-kind.ts";
import { LayoutError } from "../error.ts";
import { categoryCombinations, quantitiesOf, settingAt } from "../levels.ts";
import { axialDistance } from "../surface/axial-distance.ts";
import { cubeOf } from "../surface/cube.ts";
import { leftOutLevels } from "../two-level/two-levels.ts";

const schema = z.strictObject({
  kind: z.literal("central-composite"),
  ...commonShape,
  /** Centre runs in all, dealt to the blocks in turn; with categories, so many at each combination. */
  centrePoints: wholeNumber(0, 1000).default(5),
  /** How far out the axial runs stand, the cube at ±1: by rule or as a number. */
  axial: z
    .union([z.enum(["rotatable", "face", "block-orthogonal", "spherical"]), z.number().positive().max(10)])
    .default("rotatable"),
  /** All corners, or a fraction of them in so many runs, of resolution V or better. */
  cube: z.union([z.literal("full"), wholeNumber(4, 1024)]).default("full"),
  /** Whether low and high of a factor are the corners, or the axial runs (then nothing is cut beyond them). */
  range: z.enum(["cube", "axial"]).default("cube"),
});

export const centralComposite = defineKind({
  kind: "central-composite",
  summary: "Corners, axial runs and centre runs: a full curved surface, for finding the best setting.",
  schema,
  layOut: (factors, options) => {
    const quantities = quantitiesOf(factors);
    refuseTooFewQuantities(quantities.length, factors.length);
    const categories = categoryCombinations(factors);
    const cube = cubeOf(quantities, options.cube, options.blocks);
    const size = cube.rows.length + 2 * quantities.length + options.centrePoints;
    refuseTooManyRuns("central-composite", size * categories.length, options.replicates);
    const centreBlocks = Array.from(
      { length: options.centrePoints },
      (_, index) => (index % options.blocks) + 1,
    );
    const centreInAxial = centreBlocks.filter((block) => block === options.blocks).length;
    if (options.axial === "block-orthogonal") refuseUnevenCentre(options.centrePoints, options.blocks);
    const distance = axialDistance(options.axial, {
      factors: quantities.length,
      corners: cube.rows.length,
      centreInCube: options.centrePoints - (options.blocks > 1 ? centreInAxial : 0),
      centreInAxial: options.blocks > 1 ? centreInAxial : 0,
      blocks: options.blocks,
    });
    const scale = options.range === "axial" && distance > 1 ? 1 / distance : 1;
    const axialRows = quantities.flatMap((_, place) =>
      [-distance, distance].map((value) => quantities.map((_unused, other) => (other === place ? value : 0))),
    );
    const at = (row: readonly number[], block: number, role: UnnumberedRun["role"]) => ({
      block,
      role,
      row: row.map((value) => tidyUnit(value * scale)),
    });
    const once = [
      ...cube.rows.map((row, index) => at(row, cube.blockOf[index] ?? 1, "corner")),
      ...axialRows.map((row) => at(row, options.blocks, "axial")),
      ...centreBlocks.map((block) =>
        at(
          quantities.map(() => 0),
          block,
          "centre",
        ),
      ),
    ];
    const runs = Array.from({ length: options.replicates }, () => once)
      .flat()
      .flatMap(({ block, role, row }): UnnumberedRun[] =>
        categories.map((named) => ({
          block,
          role,
          settings: Object.fromEntries(
            factors.map((factor) => [
              factor.name,
              factor.kind === "quantity"
                ? settingAt(factor, row[quantities.indexOf(factor)] ?? 0)
                : (named[factor.name] ?? ""),
            ]),
          ),
        })),
      );
    refuseBeyondZero(factors, runs, distance * scale);
    return {
      runs: numbered(runs),
      ...(cube.generators.length > 0 ? { generators: cube.generators } : {}),
      notes: [
        ...distanceNotes(distance, scale, options.axial),
        ...cube.notes,
        ...categoryNotes(categories.length, once.length),
        ...leftOutLevels(quantities),
      ],
    };
  },
});

function refuseTooFewQuantities(quantities: number, factors: number): void {
  if (quantities >= 2) return;
  throw new LayoutError(
    quantities === 0
      ? `layout "central-composite": categories have no curve; it takes two quantities or more. For categories alone use "factorial".`
      : `layout "central-composite": 1 quantity; it takes two or more. With one, use ${factors === 1 ? '"sweep"' : '"factorial" with three or more levels of it'}.`,
  );
}

/** Blocks stay orthogonal only where every block of corners has as many centre runs as the others. */
function refuseUnevenCentre(centrePoints: number, blocks: number): void {
  if (blocks < 3 || centrePoints % blocks === 0 || centrePoints % blocks === blocks - 1) return;
  const up = Math.ceil(centrePoints / blocks) * blocks;
  throw new LayoutError(
    `layout.centrePoints: ${centrePoints} centre runs give the blocks of corners unequal numbers, so that blocks can't be orthogonal. Take ${up - 1} or ${up}.`,
  );
}

/** 1/α × α is 1 again. */
function tidyUnit(value: number): number {
  return Math.abs(Math.abs(value) - 1) < 1e-12 ? Math.sign(value) : value;
}

function refuseBeyondZero(
  factors: readonly Factor[],
  runs: readonly UnnumberedRun[],
  distance: number,
): void {
  for (const factor of quantitiesOf(factors)) {
    const least = Math.min(...runs.map((run) => Number(run.settings[factor.name])));
    if (factor.low > 0 && least <= 0) {
      throw new LayoutError(
        `layout.axial: at ${Number(distance.toPrecision(4))} times the half range ${factor.name} would be ${least} ${factor.unit}. Take "axial": "face", "range": "axial", or a logarithmic scale for ${factor.name}.`,
      );
    }
  }
}

function distanceNotes(distance: number, scale: number, axial: string | number): readonly string[] {
  const rule = typeof axial === "number" ? "as given" : axial;
  const shown = Number(distance.toFixed(4));
  return [
    scale < 1
      ? `Axial runs stand at low and high (${rule}); the corners are drawn in to ${Number(scale.toFixed(4))} of the half range.`
      : `Axial runs stand at ${shown} times the half range (${rule})${distance > 1 ? ", outside low and high" : ""}.`,
  ];
}

function categoryNotes(combinations: number, runs: number): readonly string[] {
  if (combinations < 2) return [];
  return [
    `The ${runs} runs are cut whole at each of the ${listed([String(combinations)])} combinations of categories.`,
  ];
}
