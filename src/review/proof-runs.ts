import { proofRuleOf } from "../layout/index.ts";
import { observe, proofVerdict } from "../model/index.ts";
import { readingsInUse, type AddedRuns, type Trial } from "../trial/index.ts";
import { runsInWords } from "./words.ts";
import type { Check } from "./context.ts";
import type { Remark } from "./remark.ts";

/** Proof runs with readings: passed, failed or open, by the rule that was decided before they were cut, which states both chances of being wrong. */
export const proofRuns: Check = ({ trial }) =>
  trial === null ? [] : (trial.added ?? []).flatMap((added) => verdictOn(trial, added));

function verdictOn(trial: Trial, added: AddedRuns): readonly Remark[] {
  const rule = proofRuleOf(trial.spec, added);
  if (rule === null) return [];
  const planned = Array.from({ length: added.to - added.from + 1 }, (_, index) => added.from + index);
  if (!readingsInUse(trial, rule.response).some(({ run }) => planned.includes(run))) return [];
  const cut = observe(trial, rule.response).rows.filter(({ run }) => planned.includes(run));
  const verdict = proofVerdict(
    rule.plan,
    cut.map(({ value }) => value),
  );
  const otherwise = planned.filter((run) => trial.asCut.some((note) => note.run === run));
  const several = cut.some(({ readings }) => readings > 1);
  return [
    {
      kind: `proof-${verdict.outcome}`,
      weight: verdict.outcome === "failed" || otherwise.length > 0 ? "caution" : "note",
      title: `The proof of the recipe (${runsInWords(planned)}): ${verdict.text}`,
      evidence: [
        `The rule, decided ${added.at.slice(0, 10)} before they were cut: ${rule.plan.ruleText}`,
        several ? "A part with several readings counts by their mean." : "",
        otherwise.length > 0
          ? `Cut otherwise than planned: ${runsInWords(otherwise)}; that is no proof of the recipe.`
          : "",
      ]
        .filter((text) => text !== "")
        .join(" "),
      mend: {
        passed: "The recipe has passed. Keep the rule and these readings with it.",
        failed:
          "The recipe has not passed: don't use it as it is. Find another with more room to the limit, and prove that with fresh runs by a rule of its own.",
        open: "Cut and read the proof runs that are left before you act on the recipe.",
      }[verdict.outcome],
      runs: planned,
      addRuns: [],
    },
  ];
}
