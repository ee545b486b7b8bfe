import type { Run, TrialSpec } from "../../trial/index.ts";
import { LimitError } from "../error.ts";
import { judge } from "../judge/judge.ts";
import { checkLimits } from "../limits/check-limits.ts";
import { wantedByAxial } from "./axial.ts";
import { broughtBy } from "./brings.ts";
import { cutOf } from "./cut.ts";
import { wantedByFold } from "./fold.ts";
import type { Cut, Growth, GrowthJudgement, Grown, Wanted } from "./growth.ts";
import { settledProof, wantedByProof } from "./proof.ts";
import { wantedByReplication } from "./replicate.ts";
import { wantedBySeparation } from "./separate.ts";
import { readHow, type How, type HowAsked } from "./how.ts";
import { unitOf } from "./measure.ts";
import { placed } from "./place.ts";

/**
 * Runs that carry a trial on, in cutting order, with what they bring.
 *
 * Use it when runs were cut and the answer is not good enough: `fold` turns factors over so that main effects stand clear,
 * `axial` adds what a curved surface needs, `replicate` cuts again only what decides a question, `separate` takes the fewest
 * runs that tell two explanations apart, `proof` the runs that prove a recipe by a rule decided beforehand. The added runs go on from what was cut: numbered on, on the machine's steps, a
 * block of their own unless they are cut at once, in an order of their own; a plan over a stated limit is refused with run
 * and mend (the whole plan is looked at, so a budget counts the runs that were cut). What the addition brings is judged on
 * the settings that were really cut. The same trial and the same `how` give the same runs. Nothing is written.
 *
 * Refuses, with a `LayoutError`, a trial without runs, an unknown way or option, and an addition that would bring nothing,
 * each with what would work.
 *
 * Example: of the four runs of A, B and C = AB, `grow(trial, { by: "fold" })` adds the other four of the 2³ factorial.
 */
export function grow(grown: Grown, asked: HowAsked): Growth {
  const read = readHow(asked);
  const cut = cutOf(grown);
  const how = read.by === "proof" ? settledProof(cut, read) : read;
  const wanted = wantedBy(cut, how);
  const { runs, block, rules, notes } = placed(cut, wanted, how);
  const unchecked = cut.spec === null ? [] : uncheckedLimits(cut.spec, [...cut.planned, ...runs]);
  const judged = judgedWith(cut, runs, wanted, how);
  const unit = unitOf(cut, how);
  return {
    by: how.by,
    how,
    runs,
    block,
    orderRules: rules,
    notes: [...wanted.notes, ...notes, ...unchecked],
    judged,
    proof: wanted.proof ?? null,
    brings: [...wanted.brings, ...broughtBy(judged, { unit })],
  };
}

function wantedBy(cut: Cut, how: How): Wanted {
  switch (how.by) {
    case "fold":
      return wantedByFold(cut, how);
    case "axial":
      return wantedByAxial(cut, how);
    case "replicate":
      return wantedByReplication(cut, how);
    case "separate":
      return wantedBySeparation(cut, how);
    case "proof":
      return wantedByProof(cut, how);
  }
}

const budgets: readonly string[] = ["passes", "minutes", "stock", "edges"];

/** Limits of the whole plan, cut runs with it: more may have come to hand since the first runs were planned. */
function uncheckedLimits(spec: TrialSpec, runs: readonly Run[]): readonly string[] {
  try {
    return checkLimits(spec, runs).unchecked;
  } catch (cause) {
    if (!(cause instanceof LimitError)) throw cause;
    const last = cause.findings.findLastIndex(({ limit }) => budgets.includes(limit));
    throw new LimitError(
      cause.findings.map((finding, index) =>
        index === last
          ? {
              ...finding,
              text: `${finding.text} If more is at hand by now, say so under "budget" in trial.json.`,
            }
          : finding,
      ),
    );
  }
}

function judgedWith(cut: Cut, runs: readonly Run[], { terms }: Wanted, how: How): GrowthJudgement {
  const options = {
    terms,
    sigma: how.sigma ?? 1,
    confidence: how.confidence,
    unit: how.sigma === undefined ? "" : unitOf(cut, how),
  };
  return {
    before: judge(cut.asCut, cut.factors, options),
    after: judge([...cut.asCut, ...runs], cut.factors, options),
  };
}
