import type { Draft } from "./draft.ts";

/** An empty form. The seed is the day, so that it is written down and not the same for ever. */
export function emptyDraft(now: Date): Draft {
  return {
    name: "",
    title: "",
    question: "",
    dataKind: "measured",
    source: "",
    display: "metric",
    responses: [{ name: "Ra", unit: "µm", aim: "smaller", limit: "" }],
    factors: [],
    held: [],
    cutter: {},
    machine: {},
    pass: {},
    budget: {},
    measurement: {},
    layout: {
      kind: "factorial",
      options: { seed: now.toISOString().slice(0, 10).replaceAll("-", ""), replicates: "2" },
    },
  };
}
