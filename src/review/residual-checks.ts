import { minutesBehind } from "../layout/index.ts";
import {
  fixedValues,
  isMixedFit,
  leftInResiduals,
  mostInfluential,
  type Fit,
  type LeftInResiduals,
} from "../model/index.ts";
import { formatNumber, pText } from "../units/index.ts";
import type { Check, ReviewContext } from "./context.ts";
import { clearest, familyLevel } from "./clearest.ts";
import { whatWouldChange } from "./without-run.ts";

interface Looked {
  readonly name: string;
  readonly found: LeftInResiduals;
}

/** What each row is fitted to; with random sources by the settings alone, since the row itself has a part in what their levels add. */
function fittedBySettings(fit: Fit): readonly number[] {
  return isMixedFit(fit) ? fixedValues(fit) : fit.rows.map(({ fitted }) => fitted);
}

function look(fit: Fit, name: string, column: readonly number[]): readonly Looked[] {
  const found = leftInResiduals(fit, column);
  return found === null ? [] : [{ name, found }];
}

/** Minutes of cut behind the edge when half of each run was done, by run number; undefined where the trial doesn't state enough. */
function minutesByRun({ trial }: ReviewContext): ReadonlyMap<number, number> | undefined {
  if (trial === null) return undefined;
  const told = minutesBehind(trial.spec, trial.runs);
  return told.kind === "unknown" ? undefined : told.behind;
}

/**
 * A steady trend along the cutting order or the minutes of cut beyond what the settings explain: what wear, warm-up or a drifting gauge leaves. The t test of that column
 * added to the model, exact for normal scatter, times two where both are looked at. On clean data: 5 trials in 100 (of 10,000 trials of 16 runs each
 * 4.8 %, of weighted runs 5.1 %, in 8 whole plots 4.0 %; where both are looked at 2.8 %, and 3.1 % of 8 runs).
 */
export const trendAlongOrder: Check = (context) => {
  const { fit } = context;
  if (!fit) return [];
  const minutes = minutesByRun(context);
  const behind = fit.rows.map(({ run }) => minutes?.get(run) ?? NaN);
  const found = clearest([
    ...look(
      fit,
      "order",
      fit.rows.map(({ order }) => order),
    ),
    ...(minutes === undefined ? [] : look(fit, "minutes", behind)),
  ]);
  if (found === null) return [];
  const rose = found.found.slope > 0;
  const along = found.name === "minutes" ? "with the minutes of cut" : "along the cutting order";
  const first = fit.rows.reduce((least, row) => (row.order < least.order ? row : least));
  return [
    {
      kind: "trend-along-order",
      weight: "caution",
      title: `${fit.response.name} ${rose ? "rose" : "fell"} ${along} beyond what the settings explain.`,
      evidence: `The residuals ${rose ? "rise" : "fall"} ${found.name === "minutes" ? "as minutes of cut add up" : "from run to run"} (p ${pText(found.p)}): wear, warm-up or a drifting gauge does this.`,
      mend: "Check the edge and the gauge's reference specimen, and cut one of the first settings again now.",
      runs: [],
      addRuns: [first.settings],
    },
  ];
};

/**
 * A bend of the residuals against the fitted value: effects that multiply where the model adds, or the other way round. Tukey's test with one degree of freedom (1949,
 * Biometrics 5, 232–242), exact for normal scatter. On clean data: 5 trials in 100 (of 10,000 trials of 16 runs each 4.7 %, of
 * weighted runs 5.3 %, in 8 whole plots 5.2 %).
 */
export const bendsAgainstFitted: Check = ({ fit }) => {
  if (!fit || fit.rows.length === 0) return [];
  const fitted = fittedBySettings(fit);
  const middle = fitted.reduce((sum, value) => sum + value, 0) / fitted.length;
  const found = leftInResiduals(
    fit,
    fitted.map((value) => (value - middle) ** 2),
  );
  if (found === null || found.p >= familyLevel) return [];
  const above = found.slope > 0;
  return [
    {
      kind: "bends-against-fitted",
      weight: "caution",
      title: `${fit.response.name} bends against what the model makes of it: the factors do not simply ${fit.logScale ? "multiply" : "add up"}.`,
      evidence: `Where the model says little or much, the runs lie ${above ? "above" : "below"} it; in between ${above ? "below" : "above"} (p ${pText(found.p)}).`,
      mend: fit.logScale
        ? "Add products of factors, or fit a floor or the response itself."
        : "Fit the power law (logarithms), or add products and squares.",
      runs: [],
      addRuns: [],
    },
  ];
};

/**
 * A run that moves the fit more than the most influential of clean runs would, with what changes when it is left out. Judged by drawing at the same settings
 * (see `mostInfluential`). On clean data: 5 trials in 100 (of 10,000 trials of 16 runs each 4.5 %, of weighted runs 4.1 %), the more of them with the same run named as standing apart.
 */
export const influentialRun: Check = ({ fit }) => {
  const most = fit ? mostInfluential(fit) : null;
  if (!fit || most === null || most.p > familyLevel) return [];
  const change = whatWouldChange(fit, most.run);
  if (change === "") return [];
  const row = fit.rows.find(({ run }) => run === most.run)!;
  return [
    {
      kind: "influential-run",
      weight: "caution",
      title: `Run ${most.run} by itself moves the answer. ${change}`,
      evidence: `Cook's distance ${formatNumber(most.cookDistance, { digits: 2 })}; the most influential of clean runs at these settings would move it as much in ${pText(most.p)} of trials (199 drawn).`,
      mend: "Look at that run's reading, trace and edge, and cut its setting again: one run should not decide.",
      runs: [most.run],
      addRuns: [row.settings],
    },
  ];
};
