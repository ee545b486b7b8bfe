import { scatterShareFigure } from "../../figure/index.ts";
import { readingsInUse, type Trial } from "../../trial/index.ts";
import type { FittedResponse } from "../fitted-response.ts";
import type { Part, Section } from "../part.ts";
import { counted, typedInBothSystems } from "../words.ts";
import { figurePart } from "./found.ts";

/** How it was measured: the gauge's settings, how many readings, how much of the scatter is the gauge and the spot, what was voided. */
export function measurementSection(trial: Trial, fitted: readonly FittedResponse[]): Section {
  const { cutoff, tipRadius, across } = trial.spec.measurement ?? {};
  const facts: (readonly [string, string])[] = [];
  if (cutoff !== undefined) facts.push(["Cut-off", typedInBothSystems(cutoff)]);
  if (tipRadius !== undefined) facts.push(["Tip radius", typedInBothSystems(tipRadius)]);
  if (across !== undefined) facts.push(["Traced", across === "lay" ? "across the lay" : "along the lay"]);
  for (const { name } of trial.spec.responses) facts.push([`Readings of ${name}`, readingCount(trial, name)]);
  const missing: Part[] =
    cutoff === undefined || across === undefined
      ? [
          {
            kind: "text",
            text: "The trial does not state how the traces were taken: cut-off, tip and direction decide what a roughness value means.",
          },
        ]
      : [];
  return {
    id: "measurement",
    title: "How it was measured",
    parts: [{ kind: "facts", facts }, ...missing, ...fitted.flatMap(scatter), ...voided(trial)],
  };
}

function readingCount(trial: Trial, response: string): string {
  const used = readingsInUse(trial, response);
  const runs = new Set(used.map((reading) => reading.run)).size;
  const spots = new Set(used.map((reading) => `${reading.run} ${reading.spot}`)).size;
  const all = trial.readings.filter((reading) => reading.response === response).length;
  const left = all - used.length;
  return `${used.length} at ${counted(spots, "spot")} on ${counted(runs, "run")}${left === 0 ? "" : `; ${left} voided`}`;
}

function scatter({ fit }: FittedResponse): readonly Part[] {
  if (fit === null || fit.repeats === null || fit.repeats.shares.length === 0) return [];
  const { repeats, response } = fit;
  return figurePart(
    () => scatterShareFigure(repeats, { response }),
    `Where the scatter of a single reading of ${response.name} comes from.`,
  );
}

function voided({ readings }: Trial): readonly Part[] {
  const rows = readings.filter((reading) => reading.void !== "");
  if (rows.length === 0) return [];
  return [
    {
      kind: "table",
      caption: "Readings that were voided, with the reason. They stay in the data and are not used.",
      table: {
        columns: ["run", "response", "value", "unit", "reason"],
        rows: rows.map((reading) => [
          reading.run,
          reading.response,
          reading.value,
          reading.unit,
          reading.void,
        ]),
      },
    },
  ];
}
