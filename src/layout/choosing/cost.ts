import { wholePlotsOf, type Factor, type Run, type TrialSpec } from "../../trial/index.ts";
import { LimitError } from "../error.ts";
import { checkLimits } from "../limits/check-limits.ts";
import { planCost } from "../limits/plan-cost.ts";
import type { CandidateCost } from "./choice.ts";
import type { LayoutQuestion } from "./question.ts";

/** The trial that the question belongs to, for cost and limits; null where nothing of it was given. */
export function trialOf(question: LayoutQuestion): TrialSpec | null {
  const { trial, factors } = question;
  if (!trial) return null;
  return {
    format: "trycut-trial/1",
    title: "",
    question: "",
    dataKind: "measured",
    source: "",
    display: "metric",
    responses: [],
    held: {},
    ...trial,
    factors,
    layout: { kind: "given" },
  };
}

export function costOf(
  trial: TrialSpec | null,
  factors: readonly Factor[],
  runs: readonly Run[],
): CandidateCost {
  const total = trial ? planCost(trial, runs).total : null;
  return {
    passes: runs.length,
    minutes: total?.minutesSoFar ?? null,
    edges: total?.edgesSoFar ?? null,
    stockMm: total?.stockSoFarMm ?? null,
    setUps: setUpsOf(factors, runs),
  };
}

/** Why a stated limit forbids the runs, or null. */
export function overLimit(trial: TrialSpec | null, runs: readonly Run[]): string | null {
  if (!trial) return null;
  try {
    checkLimits(trial, runs);
    return null;
  } catch (error) {
    if (error instanceof LimitError) return error.findings.map(({ text }) => text).join(" ");
    throw error;
  }
}

/** How often the factors that are hard to change are set up; 0 where there are none. */
export function setUpsOf(factors: readonly Factor[], runs: readonly Run[]): number {
  return wholePlotsOf(runs, factors)?.count ?? 0;
}
