import { readingsInUse, settingsAsCut, type Trial } from "../../trial/index.ts";
import type { Part, Section } from "../part.ts";
import { counted } from "../words.ts";

/** The readings: one row a run with its readings side by side, and every single one folded behind. */
export function readingsSection(trial: Trial): Section {
  const several = trial.readings.length > trial.runs.length * trial.spec.responses.length;
  const parts: Part[] = [perRun(trial)];
  if (several || trial.readings.some((reading) => reading.note !== "")) {
    parts.push({
      kind: "folded",
      summary: `Every reading: ${counted(trial.readings.length, "reading")}`,
      parts: [everyReading(trial)],
    });
  }
  return { id: "readings", title: "Readings", parts };
}

function perRun(trial: Trial): Part {
  const { spec, runs } = trial;
  const byRun = spec.responses.map((response) => {
    const groups = new Map<number, number[]>();
    for (const { run, value } of readingsInUse(trial, response.name)) {
      const group = groups.get(run);
      if (group === undefined) groups.set(run, [value]);
      else group.push(value);
    }
    return groups;
  });
  const heads = spec.factors.map((factor) =>
    factor.kind === "quantity" ? `${factor.name} [${factor.unit}]` : factor.name,
  );
  const decimals = byRun.map((groups) => decimalsIn([...groups.values()].flat()));
  const repeated = byRun.map((groups) => [...groups.values()].some((values) => values.length > 1));
  return {
    kind: "table",
    caption: "Runs in cutting order with their readings in use.",
    table: {
      columns: [
        "run",
        ...heads,
        ...spec.responses.flatMap(({ name, unit }, at) =>
          repeated[at] ? [`${name} mean [${unit}]`, `readings of ${name}`] : [`${name} [${unit}]`],
        ),
      ],
      rows: runs.map((run) => {
        const settings = settingsAsCut(trial, run);
        return [
          run.run,
          ...spec.factors.map((factor) => settings[factor.name] ?? null),
          ...byRun.flatMap((groups, at) =>
            cells(groups.get(run.run) ?? [], repeated[at] === true, decimals[at] ?? 0),
          ),
        ];
      }),
    },
  };
}

/** The mean, and where runs were read more than once, the readings themselves; all with the decimals of the finest reading. */
function cells(
  values: readonly number[],
  repeated: boolean,
  decimals: number,
): readonly (string | number | null)[] {
  if (values.length === 0) return repeated ? [null, "not read"] : [null];
  if (!repeated) return [values[0] ?? null];
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return [mean.toFixed(decimals), values.map((value) => value.toFixed(decimals)).join(", ")];
}

/** Decimals of the finest reading, at most six: a reading converted from another unit has more than its gauge could show. */
function decimalsIn(values: Iterable<number>): number {
  let most = 0;
  for (const value of values)
    most = Math.max(most, (/\.(\d+)$/.exec(String(Number(value.toPrecision(6))))?.[1] ?? "").length);
  return Math.min(most, 6);
}

function everyReading({ readings }: Trial): Part {
  return {
    kind: "table",
    caption: "Every reading as it was recorded.",
    table: {
      columns: ["run", "response", "value", "unit", "spot", "repeat", "taken", "note", "void"],
      rows: readings.map((reading) => [
        reading.run,
        reading.response,
        reading.text ?? reading.value,
        reading.unit,
        reading.spot,
        reading.repeat,
        reading.taken,
        reading.note,
        reading.void,
      ]),
    },
  };
}
