import { convert, isUnit } from "../units/index.ts";
import { whyNotASetting } from "./check-factors.ts";
import { asGiven, trialError } from "./error.ts";
import type { Factor, Setting, Settings } from "./factor.ts";
import { nearestName } from "./nearest-name.ts";
import type { AsCut, Run } from "./run.ts";
import type { Trial, TrialSpec } from "./trial.ts";

/**
 * The factor with this name. Refused: a name that no factor has, with the nearest one offered.
 *
 * @example factorNamed(spec, "feed").kind // "quantity"
 */
export function factorNamed(spec: Pick<TrialSpec, "factors">, name: string): Factor {
  const found = spec.factors.find((factor) => factor.name === name);
  if (found !== undefined) return found;
  const names = spec.factors.map((factor) => factor.name);
  const near = nearestName(name, names);
  const mend = near === null ? "Use one of these names." : `Did you mean "${near}"?`;
  throw trialError("", [
    { path: "factor", given: asGiven(name), expected: `one of ${names.join(", ")}`, mend },
  ]);
}

/**
 * The settings that one run was really cut at: those of the plan, but for what the as-cut file says; of several notes on
 * one factor the last counts. Numbers are in the units of the factors.
 *
 * @param run the run, or its number. Refused: a run that is not in the plan.
 */
export function settingsAsCut(trial: Pick<Trial, "spec" | "runs" | "asCut">, run: Run | number): Settings {
  const number = typeof run === "number" ? run : run.run;
  const planned = typeof run === "number" ? trial.runs.find((candidate) => candidate.run === number) : run;
  if (planned === undefined) {
    const known =
      trial.runs.length === 0
        ? "the trial is not laid out yet"
        : `the plan has runs 1 to ${trial.runs.length}`;
    throw trialError("", [
      {
        path: "run",
        given: String(number),
        expected: "a run of the plan",
        mend: `Check the number: ${known}.`,
      },
    ]);
  }
  const notes = trial.asCut.filter((note) => note.run === number);
  if (notes.length === 0) return planned.settings;
  const cut = notes.map(
    (note) => [note.factor, asCutSetting(factorNamed(trial.spec, note.factor), note)] as const,
  );
  return { ...planned.settings, ...Object.fromEntries(cut) };
}

/** What an as-cut note sets its factor to, in the factor's unit. */
export function asCutSetting(factor: Factor, note: AsCut): Setting {
  const inUnit =
    factor.kind === "quantity" && typeof note.value === "number" && isUnit(note.unit)
      ? convert(note.value, note.unit, factor.unit)
      : note.value;
  const expected = whyNotASetting(factor, inUnit);
  if (expected === null) return inUnit;
  const place = { path: `run ${note.run}, ${factor.name}`, given: asGiven(note.value) };
  throw trialError("as-cut.csv", [{ ...place, expected, mend: "Mend the note in as-cut.csv." }]);
}

/**
 * The settings of a factor that a trial names: its levels where they are given, else low and high; for a category its
 * levels.
 *
 * @example pointsOf({ kind: "category", name: "edge", levels: ["fresh", "used"], change: "easy" }) // ["fresh", "used"]
 */
export function pointsOf(factor: Factor): readonly Setting[] {
  if (factor.kind === "category") return factor.levels;
  return factor.levels ?? [factor.low, factor.high];
}
