import {
  leftInResiduals,
  levelsLeftInResiduals,
  type Fit,
  type LeftInResiduals,
  type LevelsInResiduals,
} from "../model/index.ts";
import { differenceUnit, formatNumber, pText } from "../units/index.ts";
import { clearest } from "./clearest.ts";
import type { Check, ReviewContext } from "./context.ts";
import type { Remark } from "./remark.ts";

type Looked =
  | { readonly name: string; readonly kind: "quantity"; readonly found: LeftInResiduals }
  | { readonly name: string; readonly kind: "category"; readonly found: LevelsInResiduals };

/**
 * A bend left along one quantity, or something left along a factor that is not in the model: the t test of its square (of its setting) added to the model, of a category the F
 * test of its levels, exact for normal scatter, times the number of factors looked at. On clean data: at most 5 trials in 100 (of 10,000 trials of 16 runs
 * each 5.1 %, of weighted runs 5.0 %, with a category left out 4.5 %, in 8 whole plots 5.0 %).
 */
export const leftAlongFactor: Check = (context) => {
  const { fit, moved } = context;
  if (!fit) return [];
  const looked = moved.flatMap(({ name, kind }) =>
    kind === "quantity" ? lookAlong(fit, name) : lookAtLevels(fit, name),
  );
  const found = clearest(looked);
  if (found === null) return [];
  return [
    found.kind === "quantity"
      ? alongQuantity(context, fit, found, looked.length)
      : atLevels(context, fit, found),
  ];
};

function inModel(fit: Fit, name: string): boolean {
  return fit.terms.some((term) => Object.hasOwn(term, name));
}

function lookAlong(fit: Fit, name: string): readonly Looked[] {
  const values = fit.rows.map(({ settings }) =>
    fit.kind === "power-law" ? Math.log(Number(settings[name])) : Number(settings[name]),
  );
  const middle = values.reduce((sum, value) => sum + value, 0) / values.length;
  const found = leftInResiduals(
    fit,
    inModel(fit, name) ? values.map((value) => (value - middle) ** 2) : values,
  );
  return found === null ? [] : [{ name, kind: "quantity", found }];
}

function lookAtLevels(fit: Fit, name: string): readonly Looked[] {
  const found = levelsLeftInResiduals(
    fit,
    fit.rows.map(({ settings }) => String(settings[name])),
  );
  return found === null ? [] : [{ name, kind: "category", found }];
}

type Clear<K> = Extract<Looked, { readonly kind: K }> & { readonly p: number };

function alongQuantity(
  { text }: ReviewContext,
  fit: Fit,
  { name, p, found }: Clear<"quantity">,
  looks: number,
): Remark {
  const used = inModel(fit, name);
  const settings = [...new Set(fit.rows.map((row) => Number(row.settings[name])))].sort((a, b) => a - b);
  const upward = found.slope > 0;
  return {
    kind: "left-along-factor",
    weight: "caution",
    title: used
      ? `${fit.response.name} bends along ${name}: the model's straight line misses it.`
      : `${fit.response.name} goes with ${name}, which is not in the model.`,
    evidence: used
      ? `Toward the ends of ${name} (${text(name, settings[0])} and ${text(name, settings[settings.length - 1])}) the runs lie ${upward ? "above" : "below"} the model, in the middle ${upward ? "below" : "above"} it (p ${pText(p)}, the ${looks === 1 ? "only factor" : `clearest of ${looks} factors`} looked at).`
      : `The residuals ${upward ? "rise" : "fall"} with ${name} (p ${pText(p)}).`,
    mend: used
      ? `Fit the square of ${name}, or the power law; cut middle settings where there are few.`
      : `Fit ${name} too.`,
    runs: [],
    addRuns: [],
  };
}

/** The level that stands apart from the others most clearly, judged as a column of its own. */
function atLevels({ text }: ReviewContext, fit: Fit, { name, p, found }: Clear<"category">): Remark {
  const own = fit.rows.map(({ settings }) => String(settings[name]));
  const [apart] = [...new Set(own)]
    .flatMap((level) => {
      const alone = leftInResiduals(
        fit,
        own.map((one) => (one === level ? 1 : 0)),
      );
      return alone === null ? [] : [{ level, alone }];
    })
    .sort((one, other) => one.alone.p - other.alone.p);
  const size = Math.abs(apart.alone.slope);
  const far = fit.logScale
    ? `${formatNumber(Math.exp(apart.alone.slope), { digits: 3 })} times what it is with the others`
    : `${formatNumber(size, { uncertainty: size / Math.abs(apart.alone.t) })} ${differenceUnit(fit.response.unit)} ${apart.alone.slope > 0 ? "above" : "below"} what it is with the others`;
  return {
    kind: "left-along-factor",
    weight: "caution",
    title: `${fit.response.name} goes with ${name}, ${inModel(fit, name) ? "whose levels the model does not tell by themselves" : "which is not in the model"}.`,
    evidence: `With ${name} ${text(name, apart.level)}, ${fit.response.name} is ${far}, all else as the model has it (F ${found.f.toFixed(2)} on ${found.df} and ${formatNumber(Number(found.denominatorDf.toPrecision(3)))} degrees of freedom for all levels together, p ${pText(p)}).`,
    mend: `Fit ${name} too.`,
    runs: [],
    addRuns: [],
  };
}
