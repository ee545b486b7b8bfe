import { readingsInUse, type Response, type Trial } from "../../trial/index.ts";

/** Runs with more readings than this are summed up; each reading still stands in the list of all. */
const mostListed = 8;

type Cell = string | number | null;

/** The readings of one response beside the runs: columns, and the cells of a run. */
export interface RunReadings {
  readonly columns: readonly string[];
  readonly cells: (run: number) => readonly Cell[];
}

/**
 * How the readings of a response stand in the table of runs: single readings as they are; a few as mean and list; many as count, mean,
 * lowest and highest. Means have the decimals of the finest reading.
 */
export function runReadings(trial: Trial, { name, unit }: Response): RunReadings {
  const groups = new Map<number, number[]>();
  for (const { run, value } of readingsInUse(trial, name)) {
    const group = groups.get(run);
    if (group === undefined) groups.set(run, [value]);
    else group.push(value);
  }
  const most = [...groups.values()].reduce((count, values) => Math.max(count, values.length), 0);
  const decimals = decimalsIn([...groups.values()].flat());
  const text = (value: number): string => value.toFixed(decimals);
  const mean = (values: readonly number[]): string =>
    text(values.reduce((sum, value) => sum + value, 0) / values.length);
  if (most <= 1) {
    return { columns: [`${name} [${unit}]`], cells: (run) => [groups.get(run)?.[0] ?? null] };
  }
  if (most <= mostListed) {
    return {
      columns: [`${name} mean [${unit}]`, `readings of ${name}`],
      cells: (run) => {
        const values = groups.get(run);
        return values === undefined ? [null, "not read"] : [mean(values), values.map(text).join(", ")];
      },
    };
  }
  return {
    columns: [`readings of ${name}`, `mean [${unit}]`, `lowest [${unit}]`, `highest [${unit}]`],
    cells: (run) => {
      const values = groups.get(run);
      if (values === undefined) return [0, null, null, null];
      return [values.length, mean(values), text(Math.min(...values)), text(Math.max(...values))];
    },
  };
}

/** Decimals of the finest reading, at most six: a reading converted from another unit has more than its gauge could show. */
function decimalsIn(values: readonly number[]): number {
  let most = 0;
  for (const value of values)
    most = Math.max(most, (/\.(\d+)$/.exec(String(Number(value.toPrecision(6))))?.[1] ?? "").length);
  return Math.min(most, 6);
}
