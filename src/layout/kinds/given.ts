import { listed } from "../../units/index.ts";
import { z } from "zod";
import type { Factor, Settings } from "../../trial/index.ts";
import { commonShape } from "../common-options.ts";
import { numbered } from "../deal.ts";
import { defineKind, refuseTooManyRuns } from "../define-kind.ts";
import { LayoutError } from "../error.ts";

const schema = z.strictObject({
  kind: z.literal("given"),
  ...commonShape,
  /** Runs that came from elsewhere stay in the order in which they came. */
  order: commonShape.order.unwrap().default("as-listed"),
  /** One record of settings a run. */
  runs: z.array(z.record(z.string(), z.union([z.number(), z.string()]))).optional(),
  /** The block of each run, from 1; left out, all stand in one block. */
  inBlock: z.array(z.int().min(1)).optional(),
});

export const given = defineKind({
  kind: "given",
  summary: "Runs that came from elsewhere, to be judged, cut or analysed as they stand.",
  schema,
  layOut: (factors, options) => {
    const { runs: asGiven = [] } = options;
    if (asGiven.length === 0) refuseNoRuns(factors);
    refuseTooManyRuns("given", asGiven.length, options.replicates, "Give fewer runs.");
    refuseOtherOptions(options.centrePoints, options.blocks, options.inBlock, asGiven.length);
    asGiven.forEach((settings, index) => refuseFaultyRun(factors, settings, index + 1));
    const listedRuns = asGiven.map((settings, index) => ({
      block: options.inBlock?.[index] ?? 1,
      role: "given" as const,
      settings: Object.fromEntries(factors.map((factor) => [factor.name, settings[factor.name] ?? ""])),
    }));
    const runs = Array.from({ length: options.replicates }, () => listedRuns).flat();
    return {
      runs: numbered(runs),
      notes: outsideNotes(
        factors,
        listedRuns.map((run) => run.settings),
      ),
    };
  },
});

function refuseNoRuns(factors: readonly Factor[]): never {
  const example = Object.fromEntries(
    factors.map((factor) => [
      factor.name,
      factor.kind === "quantity" ? factor.low : (factor.levels[0] ?? ""),
    ]),
  );
  const such = factors.length <= 6 ? `, such as ${JSON.stringify(example)}` : "";
  throw new LayoutError(
    `layout.runs: no run is given. List one or more, each with a setting of every factor${such}.`,
  );
}

function refuseOtherOptions(
  centrePoints: number,
  blocks: number,
  inBlock: readonly number[] | undefined,
  runs: number,
): void {
  if (centrePoints > 0) {
    throw new LayoutError(
      `layout.centrePoints: given runs stand as they came, so ${centrePoints} centre runs can't be added. List them in "runs".`,
    );
  }
  if (inBlock && inBlock.length !== runs) {
    throw new LayoutError(
      `layout.inBlock: ${inBlock.length} block${inBlock.length === 1 ? "" : "s"} for ${runs} run${runs === 1 ? "" : "s"}. Give one block a run.`,
    );
  }
  const highest = Math.max(1, ...(inBlock ?? []));
  if (blocks > 1 && blocks !== highest) {
    throw new LayoutError(
      `layout.blocks: ${blocks} blocks, but "inBlock" ${inBlock ? `goes to ${highest}` : "is missing"}. Say in "inBlock" which block each run is in.`,
    );
  }
}

function refuseFaultyRun(factors: readonly Factor[], settings: Settings, run: number): void {
  const names = factors.map((factor) => factor.name);
  for (const name of Object.keys(settings)) {
    if (!names.includes(name)) {
      throw new LayoutError(
        `layout.runs, run ${run}: "${name}" is not a factor of this trial. It has ${listed(names)}.`,
      );
    }
  }
  for (const factor of factors) {
    const setting = settings[factor.name];
    if (setting === undefined) {
      throw new LayoutError(
        `layout.runs, run ${run}: ${factor.name} has no setting. Give one for each factor.`,
      );
    }
    if (factor.kind === "quantity") {
      if (typeof setting === "number") continue;
      throw new LayoutError(
        `layout.runs, run ${run}: expected ${factor.name} as a number in ${factor.unit === "1" ? "no unit" : factor.unit}, got ${JSON.stringify(setting)}.`,
      );
    }
    if (typeof setting !== "string" || !factor.levels.includes(setting)) {
      throw new LayoutError(
        `layout.runs, run ${run}: ${JSON.stringify(setting)} is not a level of ${factor.name}. Its levels are ${listed(factor.levels.map((level) => `"${level}"`))}.`,
      );
    }
  }
}

function outsideNotes(factors: readonly Factor[], runs: readonly Settings[]): readonly string[] {
  return factors.flatMap((factor) => {
    if (factor.kind === "category") return [];
    const outside = runs.flatMap((settings, index) => {
      const setting = settings[factor.name];
      return typeof setting === "number" && (setting < factor.low || setting > factor.high)
        ? [index + 1]
        : [];
    });
    if (outside.length === 0) return [];
    return [
      `${factor.name} lies outside ${factor.low} to ${factor.high} ${factor.unit} in run${outside.length > 1 ? "s" : ""} ${listed(outside.map(String))}.`,
    ];
  });
}
