import {
  asCutSetting,
  factorNamed,
  TrialError,
  whyNotASetting,
  type AsCut,
  type Factor,
  type Reading,
  type Run,
  type TrialSpec,
} from "../trial/index.ts";
import { dimensionOf, isUnit } from "../units/index.ts";
import { asCutFile } from "./as-cut-file.ts";
import { storeError } from "./error.ts";
import { inUnitOf } from "./number-field.ts";
import { planFile } from "./plan-file.ts";
import { readingsFile } from "./readings-file.ts";

/** The parts of a trial that must fit each other. */
export interface TrialParts {
  readonly spec: TrialSpec;
  readonly runs: readonly Run[];
  readonly asCut: readonly AsCut[];
  readonly readings: readonly Reading[];
}

/**
 * Refuses parts that don't fit: a run without a setting for some factor or with one for no factor, runs that are not
 * numbered 1 to n in cutting order, notes and readings on runs, factors and responses that are not there.
 */
export function checkTrial({ spec, runs, asCut, readings }: TrialParts): void {
  runs.forEach((run, index) => checkRun(run, index + 1, spec.factors));
  const numbers = new Set(runs.map((run) => run.run));
  for (const note of asCut) {
    checkKnown(numbers, note.run, asCutFile);
    try {
      asCutSetting(factorNamed(spec, note.factor), note);
    } catch (cause) {
      if (!(cause instanceof TrialError)) throw cause;
      throw storeError({ file: asCutFile, run: note.run, field: note.factor }, cause.message, { cause });
    }
  }
  const units = new Map(spec.responses.map(({ name, unit }) => [name, unit]));
  for (const { run, response, unit } of readings) {
    checkKnown(numbers, run, readingsFile);
    const like = units.get(response);
    if (like === undefined) {
      const mend = "Name it under responses in trial.json again, or take the readings out of readings.csv.";
      throw storeError(
        { file: readingsFile, run },
        `there are readings of ${response}, and the trial has no such response. ${mend}`,
      );
    }
    if (!isUnit(unit) || dimensionOf(unit) !== dimensionOf(like)) {
      const mend = `Mend the unit of ${response} in trial.json, or the reading's.`;
      throw storeError(
        { file: readingsFile, run, field: response },
        `got the unit ${unit}; expected one of ${dimensionOf(like)} such as ${like}. ${mend}`,
      );
    }
  }
}

function checkRun(run: Run, number: number, factors: readonly Factor[]): void {
  const place = { file: planFile, run: run.run };
  if (run.run !== number) {
    throw storeError(
      place,
      `the run stands in place ${number}; expected runs numbered 1 to n in cutting order. Number them so.`,
    );
  }
  for (const factor of factors) {
    const setting = Object.hasOwn(run.settings, factor.name) ? run.settings[factor.name] : undefined;
    const expected = whyNotASetting(factor, setting);
    if (expected === null) continue;
    const given = setting === undefined ? "nothing" : JSON.stringify(setting);
    throw storeError(
      { ...place, field: factor.name },
      `got ${given}; expected ${expected}. Mend plan.csv, or the factor in trial.json.`,
    );
  }
  const known = new Set(factors.map((factor) => factor.name));
  const extra = Object.keys(run.settings).find((name) => !known.has(name));
  if (extra !== undefined) {
    const mend = "Take its column out of plan.csv as well, or bring the factor back.";
    throw storeError(
      { ...place, field: extra },
      `the plan has a setting for ${extra}, which is no factor in trial.json. ${mend}`,
    );
  }
}

function checkKnown(numbers: ReadonlySet<number>, run: number, file: string): void {
  if (numbers.has(run)) return;
  throw storeError(
    { file: planFile },
    `run ${run} is not in the plan, and ${file} speaks of it. Bring the run back.`,
  );
}

/** The runs with their settings in the units of the new factors, where these measure the same dimension as the old ones. */
export function runsInUnits(
  runs: readonly Run[],
  from: readonly Factor[],
  to: readonly Factor[],
): readonly Run[] {
  const changed = to.flatMap((factor) => {
    const old = from.find((other) => other.name === factor.name);
    if (factor.kind !== "quantity" || old?.kind !== "quantity" || old.unit === factor.unit) return [];
    return dimensionOf(old.unit) === dimensionOf(factor.unit)
      ? [{ name: factor.name, old: old.unit, unit: factor.unit }]
      : [];
  });
  if (changed.length === 0) return runs;
  return runs.map((run) => {
    const settings = { ...run.settings };
    for (const { name, old, unit } of changed) settings[name] = inUnitOf(Number(settings[name]), old, unit);
    // The typed text was of the old unit.
    const texts = Object.entries(run.texts ?? {}).filter(([name]) =>
      changed.every((factor) => factor.name !== name),
    );
    const { run: number, standard, block, role, wholePlot } = run;
    return {
      run: number,
      standard,
      block,
      role,
      settings,
      ...(texts.length > 0 ? { texts: Object.fromEntries(texts) } : {}),
      ...(wholePlot === undefined ? {} : { wholePlot }),
    };
  });
}
