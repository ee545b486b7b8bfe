import {
  bestWithinReach,
  bootstrapChoiceInWorkers,
  bootstrapInWorkers,
  crossValidate,
  modelsWithinReach,
  permutationTestInWorkers,
  termKey,
  validateChoiceInSteps,
  type Bootstrap,
  type ChoiceBootstrap,
  type ChoiceValidation,
  type CrossValidation,
  type Fit,
  type FoldOptions,
  type Heredity,
  type Observations,
  type Permutation,
} from "../model/index.ts";
import type { Settings } from "../trial/index.ts";
import { UsageError } from "./error.ts";
import { textOption, wholeNumberOption } from "./option-values.ts";
import type { OptionValues, Terminal } from "./verb.ts";

/** What was asked to be drawn anew, shuffled or left out; null for what was not asked. */
export interface DrawingAsked {
  readonly draws: number | null;
  readonly by: "residuals" | "runs";
  readonly shuffles: number | null;
  readonly leave: FoldOptions["leave"] | null;
  readonly seed: number;
}

/** What came of it; the parts with a choice are there where the model was chosen by a screening. */
export interface DrawnAnew {
  readonly bootstrap: Bootstrap | null;
  readonly permutations: readonly Permutation[];
  readonly crossValidation: CrossValidation | null;
  readonly choice: ChoiceBootstrap | null;
  readonly choiceValidation: ChoiceValidation | null;
}

export const drawingOptions = {
  draws: { type: "string" },
  "whole-runs": { type: "boolean" },
  shuffles: { type: "string" },
  "leave-out": { type: "string" },
  seed: { type: "string" },
} as const;

export const drawingHelp: readonly string[] = [
  "  --draws 10000        intervals by drawing the runs' scatter anew; with --screen the model is chosen anew in each draw",
  "  --whole-runs         with --draws: draw whole runs with their settings in place of their scatter",
  "  --shuffles 9999      test each term by letting runs change places",
  "  --leave-out run      how far runs are missed that took no part in the fit: run, block, or a number of parts; with --screen",
  "                       the model is chosen anew each time",
  "  --seed 1             of --draws, --shuffles and --leave-out in parts; the same seed gives the same figures",
  "                       Ctrl-C stops with what was drawn so far.",
];

/** Reads the options, and refuses what can't be meant before anything is computed. */
export function drawingAsked(options: OptionValues): DrawingAsked {
  const draws = wholeNumberOption(options, "draws", { least: 200, most: 1_000_000 }) ?? null;
  const shuffles = wholeNumberOption(options, "shuffles", { least: 99, most: 1_000_000 }) ?? null;
  const leave = leaveTyped(options);
  const seed = wholeNumberOption(options, "seed", { least: 0, most: Number.MAX_SAFE_INTEGER });
  const byChance = draws !== null || shuffles !== null || typeof leave === "number";
  if (seed !== undefined && !byChance)
    throw new UsageError("--seed goes with --draws, --shuffles or --leave-out in a number of parts.");
  if (options["whole-runs"] === true && draws === null)
    throw new UsageError("--whole-runs goes with --draws: how many draws to make, such as 10000.");
  if (options["whole-runs"] === true && options["screen"] !== undefined)
    throw new UsageError(
      "--whole-runs does not go with --screen: the settings stay when a model is chosen anew.",
    );
  return {
    draws,
    by: options["whole-runs"] === true ? "runs" : "residuals",
    shuffles,
    leave,
    seed: seed ?? 1,
  };
}

function leaveTyped(options: OptionValues): FoldOptions["leave"] | null {
  const typed = textOption(options, "leave-out")?.trim();
  if (typed === undefined) return null;
  if (typed === "run" || typed === "block") return typed;
  if (/^\d+$/.test(typed) && Number(typed) >= 2) return Number(typed);
  throw new UsageError(`--leave-out ${typed}: expected run, block, or a number of parts from 2, such as 5.`);
}

/** Draws, shuffles and leaves out what was asked, saying on the error stream how far it is; a stop keeps what there is. */
export async function drawAnew(
  fit: Fit,
  asked: DrawingAsked,
  given: {
    readonly at: readonly Settings[];
    /** Where the model is chosen by a screening: the whole choice is made anew. */
    readonly choice: { readonly observations: Observations; readonly heredity: Heredity } | null;
    readonly terminal: Terminal;
  },
): Promise<DrawnAnew> {
  const { at, choice, terminal } = given;
  const { draws, by, shuffles, leave, seed } = asked;
  // Asked for only by what can be stopped with what it has: to ask is to take Ctrl-C over.
  const work = (unit: string) => ({ signal: terminal.signal, onProgress: sayHowFar(terminal, unit) });
  const log = fit.logScale;
  const bootstrap =
    draws === null || choice !== null
      ? null
      : await bootstrapInWorkers(fit, { draws, by, seed, at, ...work("draws") });
  const anew =
    draws === null || choice === null
      ? null
      : await bootstrapChoiceInWorkers(choice.observations, {
          heredity: choice.heredity,
          log,
          draws,
          seed,
          at,
          confidence: fit.confidence,
          ...work("draws, the model chosen anew in each"),
        });
  const permutations: Permutation[] = [];
  if (shuffles !== null) {
    const terms = fit.terms.filter((term) => termKey(term) !== termKey({}));
    for (const term of [undefined, ...(terms.length > 1 ? terms : [])])
      permutations.push(
        await permutationTestInWorkers(fit, {
          ...(term === undefined ? {} : { term }),
          draws: shuffles,
          seed,
          ...work("orders of the runs"),
        }),
      );
  }
  return {
    bootstrap,
    choice: anew,
    permutations,
    crossValidation: leave === null || choice !== null ? null : crossValidate(fit, { leave, seed }),
    choiceValidation:
      leave === null || choice === null
        ? null
        : await validateChoiceInSteps(
            choice.observations,
            bestWithinReach({ heredity: choice.heredity, log }),
            {
              ...modelsWithinReach(choice.observations, { heredity: choice.heredity, log }).models[0].terms
                .chosenFrom,
              leave,
              seed,
              ...work("parts left out, the model chosen anew each time"),
            },
          ),
  };
}

/** Between two lines about a long drawing, and before the first. */
const QUIET_MS = 2000;

/** Says on the error stream how far drawing is; what ends soon says nothing. */
export function sayHowFar(
  terminal: Terminal,
  unit: string,
): (progress: { readonly drawn: number; readonly asked: number }) => void {
  let last = terminal.now().getTime();
  return ({ drawn, asked }) => {
    const now = terminal.now().getTime();
    if (now - last < QUIET_MS || drawn >= asked) return;
    last = now;
    terminal.error(
      `${drawn.toLocaleString("en")} of ${asked.toLocaleString("en")} ${unit}. Ctrl-C stops with those so far.`,
    );
  };
}
