import {
  asCutSetting,
  factorNamed,
  parseTrialSpec,
  TrialError,
  type AddedHow,
  type AsCut,
  type Run,
  type RunRole,
  type Settings,
  type TrialSpec,
} from "../trial/index.ts";
import { readQuantity } from "../units/index.ts";
import { adopted } from "./adopt.ts";
import { checkTrial, runsInUnits } from "./check-trial.ts";
import { storeError } from "./error.ts";
import type { Change } from "./journal-change.ts";
import { asTrialFolder, type TrialFolder } from "./open-trial.ts";
import { planFile } from "./plan-file.ts";
import { typedDigits } from "./record.ts";
import { changed } from "./replay.ts";
import { withTrial, type ChangeOptions } from "./settle.ts";
import { tidyNote } from "./typed-text.ts";
import { writeChange, type Held } from "./write-change.ts";

/** Makes one change that must leave the trial's parts fitting each other. */
async function change(
  folder: string,
  make: (held: Held) => Change,
  options: ChangeOptions,
): Promise<TrialFolder> {
  return withTrial(
    folder,
    async (held, now) => {
      const made = make(held);
      const next = { ...held.state, ...changed(held.state, made) };
      const spec =
        made.kind === "spec-changed" ? parseTrialSpec(JSON.parse(made.specText) as unknown) : held.spec;
      checkTrial({ ...next, spec });
      const after = await writeChange(await adopted(held, now), made, { now });
      return asTrialFolder(folder, after.state, after.spec, after.notices);
    },
    options,
  );
}

/** Writes the plan of a trial. Refused: a trial that has readings already (add runs instead), runs that don't fit it. */
export async function layOutTrial(
  folder: string,
  runs: readonly Run[],
  options: ChangeOptions = {},
): Promise<TrialFolder> {
  return change(
    folder,
    ({ state }) => {
      if (state.readings.length > 0) {
        throw storeError(
          { file: "plan.csv" },
          `${state.readings.length === 1 ? "1 reading belongs" : `${state.readings.length} readings belong`} to the plan as it stands; nothing was written. Add runs to it instead.`,
        );
      }
      return { kind: "laid-out", runs: [...runs] };
    },
    options,
  );
}

export interface AddedRun {
  readonly settings: Settings;
  /** Default "added". */
  readonly role?: RunRole;
  /** Default: one more than the last block, so that a change of day is not taken for an effect. */
  readonly block?: number;
  /** Place in the standard order of what is added, counted on from the plan's last. Default: as given. */
  readonly standard?: number;
}

export interface AddOptions extends ChangeOptions {
  /** How the runs were chosen: the journal keeps it, and a reader of the finding is told. */
  readonly how?: AddedHow;
  /** How many runs the plan had when these were chosen: refused where another writer has added some since. */
  readonly onto?: number;
}

/**
 * Adds runs at the end of the plan, in the order given; readings and runs that stand are left as they are. Refused: settings
 * that don't fit the factors, no run at all, a plan that is no longer as long as `onto` says.
 */
export async function addRuns(
  folder: string,
  runs: readonly AddedRun[],
  { how, onto, ...options }: AddOptions = {},
): Promise<TrialFolder> {
  return change(
    folder,
    ({ state }) => {
      if (runs.length === 0)
        throw storeError({ file: planFile }, "no run was given to add; nothing was written.");
      if (onto !== undefined && onto !== state.runs.length) {
        throw storeError(
          { file: planFile },
          `the plan has ${state.runs.length} runs, and these were chosen when it had ${onto}: somebody has changed it since. Look again at what is to be added; nothing was written.`,
        );
      }
      const last = Math.max(0, ...state.runs.map((run) => run.block));
      const standard = Math.max(0, ...state.runs.map((run) => run.standard));
      return {
        kind: "runs-added",
        ...(how === undefined
          ? {}
          : { how: { by: how.by, options: { ...how.options }, says: [...how.says] } }),
        runs: runs.map(({ settings, role = "added", block = last + 1, standard: own }, index) => ({
          run: state.runs.length + index + 1,
          standard: own ?? standard + index + 1,
          block,
          role,
          settings: { ...settings },
        })),
      };
    },
    options,
  );
}

/** A factor of a run that was cut otherwise than planned, as it is typed in. */
export interface NewAsCut {
  readonly run: number;
  readonly factor: string;
  /** A number in `unit`, what was typed ("0.01 in/rev"), or a level. */
  readonly value: number | string;
  /** Default: the factor's own. */
  readonly unit?: string;
  readonly reason: string;
}

/**
 * Notes what was really cut; analysis uses it. Several notes on one factor of one run are kept, and the last counts.
 * Refused: a run or factor that is not there, a value that can't stand for the factor, a reason that is missing.
 */
export async function noteAsCut(
  folder: string,
  notes: readonly NewAsCut[],
  options: ChangeOptions = {},
): Promise<TrialFolder> {
  return change(
    folder,
    ({ spec }) => ({ kind: "cut-otherwise", asCut: notes.map((note) => asCutOf(note, spec)) }),
    options,
  );
}

function asCutOf({ run, factor: name, value, unit, reason }: NewAsCut, spec: TrialSpec): AsCut {
  const factor = factorNamed(spec, name);
  const why = tidyNote(reason);
  const place = { run, field: name };
  if (why === "")
    throw storeError(
      place,
      "a run cut otherwise than planned is noted with a reason. Say it in a few words; nothing was written.",
    );
  if (factor.kind === "category")
    return checked({ run, factor: name, value: String(value), unit: "", reason: why });
  if (typeof value === "number")
    return checked({ run, factor: name, value, unit: unit ?? factor.unit, reason: why });
  const answer = readQuantity(unit === undefined ? value : `${value} ${unit}`, { unit: factor.unit });
  if (answer.kind !== "value")
    throw storeError(
      place,
      `${answer.kind === "question" ? answer.question : answer.message} Nothing was written.`,
    );
  const { value: number, unit: typed } = answer.value;
  return checked({
    run,
    factor: name,
    value: number,
    unit: typed,
    reason: why,
    ...typedDigits(value, number),
  });

  function checked(note: AsCut): AsCut {
    try {
      asCutSetting(factor, note);
      return note;
    } catch (cause) {
      if (!(cause instanceof TrialError)) throw cause;
      throw storeError(
        place,
        `${cause.problems[0].expected} was expected, got ${JSON.stringify(note.value)}; nothing was written.`,
        { cause },
      );
    }
  }
}

/** Replaces trial.json. Settings follow a factor's unit. Refused: a spec with errors, or one that runs or readings don't fit. */
export async function changeSpec(
  folder: string,
  spec: unknown,
  options: ChangeOptions = {},
): Promise<TrialFolder> {
  const parsed = parseTrialSpec(spec);
  return change(
    folder,
    (held) => ({
      kind: "spec-changed",
      specText: `${JSON.stringify(spec, null, 2)}\n`,
      runs: [...runsInUnits(held.state.runs, held.spec.factors, parsed.factors)],
    }),
    options,
  );
}

/** Notes that somebody looked the results over, as they stand now. */
export async function noteReview(
  folder: string,
  note = "",
  options: ChangeOptions = {},
): Promise<TrialFolder> {
  return change(
    folder,
    (held) => ({
      kind: "reviewed",
      checksum: asTrialFolder(folder, held.state, held.spec, []).checksum,
      note: tidyNote(note),
    }),
    options,
  );
}

/** Notes that a finding was published from the trial as it stands now; `file` is where, within the trial's folder. */
export async function notePublished(
  folder: string,
  file: string,
  options: ChangeOptions = {},
): Promise<TrialFolder> {
  return change(
    folder,
    (held) => ({
      kind: "published",
      checksum: asTrialFolder(folder, held.state, held.spec, []).checksum,
      file,
    }),
    options,
  );
}
