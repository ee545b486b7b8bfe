import type { TrialSummary } from "../store/index.ts";
import type { TrialListing, TrialSheet } from "./api.ts";

/** On which sheet each step is done. */
const sheetOfStep: Readonly<Record<TrialSummary["next"]["step"], TrialSheet>> = {
  "lay out": "plan",
  cut: "run-sheet",
  review: "review",
  publish: "finding",
  done: "finding",
  mend: "plan",
};

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** A line of the list of trials. */
export function trialListing(summary: TrialSummary): TrialListing {
  if (summary.problem !== "") return { name: summary.name, problem: summary.problem };
  const { name, title, question, dataKind, runs, cut, next } = summary;
  return {
    name,
    title,
    question,
    dataKind,
    runs,
    runsRead: cut,
    next: {
      sheet: sheetOfStep[next.step],
      text: next.step === "done" ? "See the finding" : capitalised(next.text),
    },
    problem: null,
  };
}
