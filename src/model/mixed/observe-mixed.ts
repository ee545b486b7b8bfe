import { listed } from "../../units/index.ts";
import { readingsInUse, settingsAsCut, wholePlotsOf } from "../../trial/index.ts";
import type { Reading, Run, Trial } from "../../trial/index.ts";
import { modelError } from "../error.ts";
import type { Observation, Observations } from "../observations.ts";
import { observe } from "../observe.ts";
import { sourceName, sourceOf } from "../table-sources.ts";
import type { RandomColumns } from "../table-sources.ts";

/**
 * Observations of a trial with the sources of scatter that its layout and readings know: `block`, `whole plot` (set-ups of the factors that are hard to
 * change), `run` and `spot` (readings are rows of their own then), and factors by name (each setting is a level). Left out, `random` is the whole plots.
 */
export function observeMixed(
  trial: Trial,
  options: {
    readonly response: string | undefined;
    readonly log: boolean;
    readonly random: readonly RandomColumns[] | undefined;
  },
): Observations {
  const { response, log } = options;
  const observed = observe(trial, response, { log });
  const plots = wholePlotsOf(trial.runs, trial.spec.factors);
  const random = options.random ?? (plots === null ? [] : ["whole plot"]);
  if (random.length === 0) {
    throw modelError(
      "a mixed fit without a random source, of a trial in which no factor is hard to change",
      "at least one source: block, run, or a factor",
    );
  }
  const runAt = new Map(trial.runs.map((run, place) => [run.run, { run, place }]));
  const { rows, placed } = random.includes("run")
    ? readingRows(trial, observed, log)
    : { rows: observed.rows, placed: observed.rows.map(() => null) };
  const levelOf = (name: string, row: Observation, reading: Reading | null): string => {
    const { run, place } = runAt.get(row.run)!;
    if (name === "block") return String(run.block);
    if (name === "run") return String(run.run);
    if (name === "spot" && reading !== null) return `${run.run} / ${reading.spot}`;
    if (name === "whole plot" && plots !== null) return String(plots.of[place]);
    if (Object.hasOwn(row.settings, name)) return String(row.settings[name]);
    throw unknownSource(name, trial, plots !== null);
  };
  return {
    ...observed,
    rows,
    ...(random.includes("run") ? { repeats: null, notes: [] } : {}),
    sources: random.map((asked) => {
      const names = typeof asked === "string" ? [asked] : asked;
      return sourceOf(
        sourceName(asked),
        rows.map((row, i) => names.map((name) => levelOf(name, row, placed[i])).join(" / ")),
      );
    }),
  };
}

/** Every reading in use as a row of its own. */
function readingRows(
  trial: Trial,
  observed: Observations,
  log: boolean,
): { readonly rows: readonly Observation[]; readonly placed: readonly Reading[] } {
  const byRun = new Map<number, Reading[]>();
  for (const reading of readingsInUse(trial, observed.response.name)) {
    const list = byRun.get(reading.run);
    if (list === undefined) byRun.set(reading.run, [reading]);
    else list.push(reading);
  }
  const placed: Reading[] = [];
  const rows = [...trial.runs]
    .sort((a: Run, b: Run) => a.run - b.run)
    .flatMap((run) => {
      const settings = settingsAsCut(trial, run);
      return (byRun.get(run.run) ?? []).map((reading): Observation => {
        placed.push(reading);
        return {
          run: run.run,
          order: placed.length,
          block: run.block,
          settings,
          value: log ? Math.log(reading.value) : reading.value,
          readings: 1,
          single: [reading.value],
        };
      });
    });
  return { rows, placed };
}

function unknownSource(name: string, trial: Trial, hard: boolean): Error {
  if (name === "spot") {
    return modelError(
      "the random source spot without run",
      "the runs that the spots lie on as a source too",
      "Name run as well.",
    );
  }
  if (name === "whole plot") {
    return modelError(
      `the random source whole plot in ${trial.name}, where no factor is hard to change`,
      'a factor marked "change": "hard"',
    );
  }
  const known = [
    "block",
    ...(hard ? ["whole plot"] : []),
    "run",
    "spot",
    ...trial.spec.factors.map((one) => one.name),
  ];
  return modelError(`the unknown random source "${name}"`, `one of ${listed(known, "or")}`);
}
