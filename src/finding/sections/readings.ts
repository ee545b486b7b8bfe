import { settingsAsCut, type Trial } from "../../trial/index.ts";
import type { Part, Section } from "../part.ts";
import { counted } from "../words.ts";
import { runReadings } from "./run-readings.ts";

/** The readings: one row a run with what was read after it, and every single one folded behind. */
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
  const heads = spec.factors.map((factor) =>
    factor.kind === "quantity" ? `${factor.name} [${factor.unit}]` : factor.name,
  );
  const read = spec.responses.map((response) => runReadings(trial, response));
  return {
    kind: "table",
    caption: "Runs in cutting order with their readings in use.",
    table: {
      columns: ["run", ...heads, ...read.flatMap(({ columns }) => columns)],
      rows: runs.map((run) => {
        const settings = settingsAsCut(trial, run);
        return [
          run.run,
          ...spec.factors.map((factor) => settings[factor.name] ?? null),
          ...read.flatMap(({ cells }) => cells(run.run)),
        ];
      }),
    },
  };
}

function everyReading({ readings }: Trial): Part {
  return {
    kind: "table",
    caption: "Every reading as it was recorded. The data package has them all.",
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
