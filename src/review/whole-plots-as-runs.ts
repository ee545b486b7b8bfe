import { fitMixed, isMixedFit, ModelError, type MixedFit } from "../model/index.ts";
import { wholePlotsOf, type Trial } from "../trial/index.ts";
import { listed } from "../units/index.ts";
import type { Check } from "./context.ts";

/**
 * Plain least squares of runs that share set-ups of a factor that is hard to change: it takes every run for a set-up of its own. Raised by the plan and not
 * by the readings, so that chance can't raise it: it never fires on a trial whose runs are all set up afresh.
 */
export const wholePlotsAsRuns: Check = ({ trial, fit, runs }) => {
  if (trial === null || fit === null || isMixedFit(fit) || fit.noInterval !== "") return [];
  const read = new Set(runs.map(({ run }) => run));
  const cut = trial.runs.filter(({ run }) => read.has(run));
  const plots = wholePlotsOf(cut, trial.spec.factors);
  if (plots === null || plots.count === cut.length) return [];
  const hard = plots.factors.filter((name) => fit.terms.some((term) => Object.hasOwn(term, name)));
  if (hard.length === 0) return [];
  const names = listed(hard);
  const settings = new Set(cut.map((run) => JSON.stringify(hard.map((name) => run.settings[name])))).size;
  const mixed = settings < plots.count ? likeIt(trial, fit) : null;
  const claims = mixed?.plainClaims.flatMap(({ text }) => (text === "" ? [] : [text])) ?? [];
  const shared = `${cut.length} runs share ${plots.count} set-ups of ${names} at ${settings} ${settings === 1 ? "setting" : "settings"}.`;
  return [
    {
      kind: "whole-plots-as-runs",
      weight: "caution",
      title: `Runs that share a set-up of ${names} were taken for set-ups of their own: the interval of ${names} can't be trusted.`,
      evidence:
        mixed === null
          ? `${shared} With no more set-ups than the model needs, what set-ups differ by can't be told from what ${names} ${hard.length === 1 ? "does" : "do"}.`
          : [
              shared,
              ...(claims.length > 0
                ? claims
                : [
                    "Judged by set-ups the intervals come out much the same here, which these few set-ups show only roughly.",
                  ]),
            ].join(" "),
      mend:
        mixed === null
          ? `Cut every setting of ${names} in a second set-up, then fit with set-ups (whole plots) as a random source.`
          : "Fit with set-ups (whole plots) as a random source: fitMixed(trial).",
      runs: [],
      addRuns: [],
    },
  ];
};

/** The same model with whole plots as a random source; null where they can't carry it. */
function likeIt(trial: Trial, fit: Parameters<Check>[0]["fit"] & object): MixedFit | null {
  try {
    return fitMixed(trial, {
      response: fit.response.name,
      confidence: fit.confidence,
      log: fit.logScale,
      random: ["whole plot"],
      terms: fit.terms,
      ...(fit.kind === "power-law" ? { model: "power-law" as const } : {}),
    });
  } catch (error) {
    if (error instanceof ModelError) return null;
    throw error;
  }
}
