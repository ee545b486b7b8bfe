import { formatNumber } from "../../units/index.ts";
import { mean, standardDeviation } from "../../numerics/index.ts";
import { modelError } from "../error.ts";
import { unitText } from "../words.ts";
import type { ProofPlan } from "./proof-plan.ts";

/** What proof runs came to by the rule that was decided beforehand. */
export interface ProofVerdict {
  /** `open` while runs are missing that could still change it. */
  readonly outcome: "passed" | "failed" | "open";
  readonly text: string;
}

/**
 * Whether proof runs pass, by the rule of their plan and by nothing else. `values` holds one figure a part, in the response's
 * unit, in the order cut. Counting can fail early; nothing passes before all runs are cut. Refused: more values than the plan
 * has runs (a rule that is stretched after looking has other chances), values that are not finite, or not above zero under
 * logarithms.
 *
 * Example: one part of 22 over the limit, by a rule that bears one, has passed.
 */
export function proofVerdict(plan: ProofPlan, values: readonly number[]): ProofVerdict {
  const { runs, criterion, side, limit, log } = plan;
  values.forEach((value, index) => {
    if (!Number.isFinite(value) || (log && !(value > 0)))
      throw modelError(`proof run ${index + 1}: ${value}`, log ? "a number above zero" : "a finite number");
  });
  if (values.length > runs) {
    throw modelError(
      `${values.length} proof runs for a rule of ${runs}`,
      `${runs} values`,
      "A rule that is stretched after looking no longer has the chances that were stated: plan further proof runs by a rule of their own.",
    );
  }
  const missing = runs - values.length;
  const waits = `${missing} of ${runs} proof runs ${missing === 1 ? "is" : "are"} still to be cut`;
  if (criterion.kind === "count") {
    const over = values.filter((value) => (side === "at-most" ? value > limit : value < limit)).length;
    const counted = `${over} of ${values.length} parts ${over === 1 ? "is" : "are"} outside ${formatNumber(limit)}${unitText(plan.unit)}, and ${criterion.mostOver} may be`;
    if (over > criterion.mostOver) return { outcome: "failed", text: `Failed: ${counted}.` };
    if (missing > 0) return { outcome: "open", text: `Open: ${waits}; ${counted}.` };
    return { outcome: "passed", text: `Passed: ${counted}.` };
  }
  if (missing > 0) return { outcome: "open", text: `Open: ${waits}.` };
  const used = log ? values.map((value) => Math.log(value)) : values;
  const [centre, scatter] = [mean(used), standardDeviation(used)];
  const inside = (log ? Math.log(limit) : limit) - centre;
  const distance = side === "at-most" ? inside : -inside;
  const passes = distance >= criterion.standardDeviations * scatter;
  if (log) {
    const told = ratioText(plan, Math.exp(centre), Math.exp(scatter));
    return passes
      ? { outcome: "passed", text: `Passed: ${told}.` }
      : { outcome: "failed", text: `Failed: ${told}.` };
  }
  const wanted = formatNumber(criterion.standardDeviations * scatter, { digits: 4 });
  const text = `the mean lies ${formatNumber(Math.abs(distance), { digits: 4 })} ${distance < 0 ? "outside" : "inside"} the limit, and ${wanted} inside was needed (${criterion.standardDeviations} times the standard deviation ${formatNumber(scatter, { digits: 4 })})`;
  return passes
    ? { outcome: "passed", text: `Passed: ${text}.` }
    : { outcome: "failed", text: `Failed: ${text}.` };
}

/** The figures of a rule on logarithms as a calculator shows them; only distances come here. */
function ratioText(
  { side, limit, unit, criterion }: ProofPlan,
  geometricMean: number,
  scatterFactor: number,
): string {
  const power = criterion.kind === "distance" ? criterion.standardDeviations : 0;
  const factor = scatterFactor ** power;
  // Readings that differ a hundred digits over give powers that no calculator shows.
  const text = (value: number): string =>
    Number.isFinite(value)
      ? `${formatNumber(Number(value.toPrecision(4)))}${unitText(unit)}`
      : "beyond all bounds";
  const isUpper = side === "at-most";
  return `the geometric mean is ${text(geometricMean)}; ${isUpper ? "times" : "divided by"} the scatter factor ${formatNumber(scatterFactor, { digits: 4 })} to the power ${power} that is ${text(isUpper ? geometricMean * factor : geometricMean / factor)}, and ${isUpper ? "at most" : "at least"} ${text(limit)} was needed`;
}
