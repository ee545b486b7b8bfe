import { powerFigure, type PowerCurve } from "../figure/index.ts";
import { judge, statedVarianceRatio, type TermJudgement } from "../layout/index.ts";
import type { Run, TrialSpec } from "../trial/index.ts";
import {
  formatNumber,
  formatQuantity,
  parseNumber,
  parseQuantity,
  quantity,
  valueIn,
  type Dimension,
  type UnitName,
} from "../units/index.ts";
import type { OutlookRow, OutlookView } from "./api.ts";
import type { OutlookDraft } from "./draft.ts";
import { isRefusal, messageOf } from "./error.ts";
import { drawn, type PlanAsked } from "./plan-figures.ts";
import { powerCurves } from "./power-curves.ts";

/** A term that moves with the order more than this can hardly be told from steady wear: half its variance and more is the order's. */
const followsAbove = 0.7;

export const noOutlook: OutlookDraft = {
  sigma: "",
  effect: "",
  confidence: "95",
  model: "main",
  stake: "which-matter",
};

/** A guess of the scatter as typed: one number, or from where to where; null where nothing is said. */
export function scatterFrom(
  text: string,
  unit: UnitName,
): { readonly low: number; readonly high: number } | null {
  const [first = "", second] = text.trim().split(/\s+(?:to|–|-)\s+/);
  if (first === "") return null;
  if (second === undefined) {
    const value = typedIn(first, unit) ?? 0;
    return { low: value, high: value };
  }
  // A unit behind the second number stands for both.
  const shared = /\d\s*([^\d\s.,].*)$/.exec(second)?.[1] ?? "";
  const low = /[^\d\s.,]/.test(first) ? first : `${first} ${shared}`;
  return { low: typedIn(low, unit) ?? 0, high: typedIn(second, unit) ?? 0 };
}

export function typedIn(text: string, unit: UnitName): number | null {
  return text.trim() === "" ? null : valueIn<Dimension>(parseQuantity(text, { unit }), unit);
}

/** "95", "95 %" and "0.95" all mean 0.95. */
export function confidenceFrom(text: string): number {
  const typed = text.trim() === "" ? 95 : parseNumber(text.replace("%", ""));
  return typed > 1 ? typed / 100 : typed;
}

function correlationText(correlation: number): string {
  return formatNumber(Number(correlation.toFixed(2)));
}

function rowOf(term: TermJudgement, width: (value: number) => string, hasEffect: boolean): OutlookRow {
  return {
    label: term.label,
    halfWidth: term.halfWidth === null ? "can't be told" : `± ${width(term.halfWidth)}`,
    power:
      term.power === null
        ? hasEffect
          ? "can't be told"
          : ""
        : `${formatNumber(100 * term.power, { digits: 2 })} %`,
    withOrder: correlationText(term.correlationWithOrder),
    worst:
      term.worstCorrelationWith === ""
        ? ""
        : `${correlationText(term.worstCorrelation)} with ${term.worstCorrelationWith}`,
    followsOrder: Math.abs(term.correlationWithOrder) > followsAbove,
  };
}

function powerFigures(curves: readonly PowerCurve[]): readonly string[] {
  if (curves.length === 0) return [];
  return drawn([
    [
      () => powerFigure(curves, { along: "passes", whole: "only" }),
      "The chance of seeing the stated change, were the whole plan cut once, twice and so on.",
    ],
  ]);
}

/** What a plan is asked, from what was typed; widths in multiples of σ where no scatter is stated. */
export function planAsked(
  spec: Pick<TrialSpec, "responses" | "layout">,
  outlook: OutlookDraft,
): PlanAsked & { readonly sigma: number; readonly unit: string } {
  const unit = spec.responses[0]?.unit ?? "1";
  // Of a range the larger scatter, so that nothing is promised that only luck would keep.
  const sigma = scatterFrom(outlook.sigma, unit)?.high;
  return {
    model: outlook.model,
    sigma: sigma ?? 1,
    confidence: confidenceFrom(outlook.confidence),
    unit: sigma === undefined ? "σ" : unit,
    varianceRatio: statedVarianceRatio(spec),
  };
}

/** What a plan can tell, for a guess of the scatter and a change worth knowing; a refusal in words where it can't be judged. */
export function outlookView(
  spec: Pick<TrialSpec, "factors" | "responses" | "layout">,
  runs: readonly Run[],
  outlook: OutlookDraft,
): OutlookView | { readonly refusal: string } {
  const unit = spec.responses[0]?.unit ?? "1";
  try {
    const known = scatterFrom(outlook.sigma, unit) !== null;
    const effect = typedIn(outlook.effect, unit);
    const options = { ...planAsked(spec, outlook), effect: known ? effect : null };
    const judged = judge(runs, spec.factors, options);
    const width = (value: number) =>
      known
        ? formatQuantity(quantity(value, unit), { digits: 2 })
        : `${formatNumber(value, { digits: 2 })} σ`;
    // Widths in multiples of an unknown σ, and terms that can't be told apart, are shown as tables of their own.
    const inseparable = judged.inseparable.map(({ text }) => text);
    const isShownElsewhere = (sentence: string) =>
      inseparable.includes(sentence) || (!known && sentence.startsWith("With σ"));
    return {
      sentences: judged.sentences.filter((sentence) => !isShownElsewhere(sentence)),
      rows: judged.terms.map((term) => rowOf(term, width, judged.effect !== null)),
      inseparable,
      note: known
        ? effect === null
          ? "State the smallest change worth seeing to get the chance of seeing it."
          : ""
        : "No scatter is stated, so widths are in multiples of it (σ): state a guess to get them in the response's unit.",
      figures: powerFigures(powerCurves(runs, spec.factors, options)),
    };
  } catch (error) {
    if (isRefusal(error)) return { refusal: messageOf(error) };
    throw error;
  }
}
