import { describe } from "vitest";
import * as cutting from "../../src/cutting/index.ts";
import { parseTrialSpec } from "../../src/trial/index.ts";
import { runExamples } from "../units/run-examples.ts";

const spec = parseTrialSpec(
  {
    format: "trycut-trial/1",
    title: "Seal face",
    factors: [
      { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.08, high: 0.24 },
      { name: "speed", kind: "quantity", unit: "rev/min", low: 500, high: 2000 },
    ],
    responses: [{ name: "Ra", unit: "µm" }],
    layout: { kind: "factorial" },
    cutter: { maxSpeed: "8000 rev/min" },
    machine: { maxSpeed: "6000 rev/min" },
  },
  "trial.json",
);

describe("examples in the comments of src/cutting", () => {
  runExamples(new URL("../../src/cutting/", import.meta.url), { ...cutting, spec });
});
