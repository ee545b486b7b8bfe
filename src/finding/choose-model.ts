import type { ChosenFrom, FitOptions, Observations, ObservedFactor } from "../model/index.ts";
import type { Trial } from "../trial/index.ts";

/** A named model of a page. `bent-power-law` is a power law with products and squares of the logarithms: a surface on logarithms. */
export type PageModel = "power-law" | "bent-power-law" | NonNullable<FitOptions["model"]>;

/** A model for one response: what is fitted, and why this one. */
export interface ModelChoice {
  readonly model: PageModel;
  /** Fit the logarithm of the response; a power law always does. */
  readonly log: boolean;
  /** One or two sentences for the page. */
  readonly reason: string;
  /** Set where the readings themselves had a say beyond their sign; the fit carries it. */
  readonly chosenFrom?: ChosenFrom;
}

/** A quantity that was cut over at least this ratio can show a power. */
const ratioForPower = 2;
/** Runs left over for judging error, below which a richer model is not taken. */
const leastErrorDf = 4;
/** A response that spans at least this ratio is read as ratios. */
const ratioForLog = 3;

/**
 * The model that a published page uses for one response, where its author names none. The plan and the sign of the readings decide,
 * never how well a model fits: a choice by fit would make the intervals too narrow. The one look at the size of the readings (their span, for the logarithm) is
 * marked, and the fit says so.
 *
 * - Power law: every reading in use above zero, every quantity above zero, and at least one quantity on a logarithmic scale or cut
 *   over a ratio of 2 or more. Finish follows feed as a power, and scatter of finish grows with its size. A plan that was laid out for a
 *   surface (`layout`) has products and squares of the logarithms too, if at least 4 degrees of freedom are left for error.
 * - Otherwise linear in the factors' units (on the logarithm where there are only categories and the response spans a ratio of 3
 *   or more): with squares where every quantity was cut at three settings or more, with products where two factors were
 *   crossed, each only if at least 4 degrees of freedom are left for error.
 */
export function chooseModel(
  observations: Observations,
  { layout }: { readonly layout?: Layout } = {},
): ModelChoice {
  const { factors, response, rows } = observations;
  const values = observations.rows.flatMap((row) => row.single);
  const positive = values.length > 0 && values.every((value) => value > 0);
  const quantities = factors.filter((factor) => factor.kind === "quantity");
  const settings = (factor: ObservedFactor): readonly number[] =>
    rows.map((row) => Number(row.settings[factor.name]));
  const wide = quantities.find((factor) => isWide(factor, settings(factor)));
  if (
    positive &&
    wide !== undefined &&
    quantities.every((factor) => settings(factor).every((value) => value > 0))
  ) {
    const reason = `${response.name} and every quantity are above zero, and ${spanText(wide, settings(wide))}: a power law fits the physics of cutting, and its effects read as ratios.`;
    const { bent } = termCounts(observations);
    if (layout === undefined || !laidOutForSurface(layout) || rows.length - bent < leastErrorDf)
      return { model: "power-law", log: true, reason };
    return {
      model: "bent-power-law",
      log: true,
      reason: `${reason} The runs were laid out for a surface, so products and squares of the logarithms are fitted too.`,
    };
  }
  const span = positive ? ratio(values) : 1;
  const log = quantities.length === 0 && span >= ratioForLog;
  const { model, reason } = richest(observations, settings);
  const scale = log
    ? ` ${response.name} spans a ratio of ${Number(span.toPrecision(2))}, so its logarithm is fitted, and effects read as ratios.`
    : "";
  const choice = { model, log, reason: reason + scale };
  if (!log) return choice;
  const how = `the logarithm, because these same readings span a ratio of ${Number(span.toPrecision(2))}`;
  return { ...choice, chosenFrom: { how } };
}

type Layout = Trial["spec"]["layout"];

/** Layouts that are cut for a model of second degree. */
function laidOutForSurface({ kind, terms }: Layout): boolean {
  return (
    kind === "central-composite" || kind === "box-behnken" || (kind === "optimal" && terms === "surface")
  );
}

/** How many coefficients models have: each factor by itself, products added, squares added. */
function termCounts({ factors }: Pick<Observations, "factors">): {
  readonly main: number;
  readonly crossed: number;
  readonly bent: number;
} {
  const comparisons = factors.map((factor) => (factor.kind === "quantity" ? 1 : factor.levels.length - 1));
  const main = 1 + comparisons.reduce((sum, each) => sum + each, 0);
  const products = comparisons.reduce(
    (sum, each, at) => sum + each * comparisons.slice(at + 1).reduce((rest, other) => rest + other, 0),
    0,
  );
  const squares = factors.filter((factor) => factor.kind === "quantity").length;
  return { main, crossed: main + products, bent: main + products + squares };
}

/** The richest set of terms that the plan leaves enough error for. */
function richest(
  { factors, rows }: Observations,
  settings: (factor: ObservedFactor) => readonly number[],
): Pick<ModelChoice, "model" | "reason"> {
  const quantities = factors.filter((factor) => factor.kind === "quantity");
  const counts = termCounts({ factors });
  const products = counts.crossed - counts.main;
  const bent = quantities.length > 0 && quantities.every((factor) => new Set(settings(factor)).size >= 3);
  const left = (terms: number): number => rows.length - terms;
  if (bent && left(counts.bent) >= leastErrorDf) {
    const what = products > 0 ? "products and squares are" : "a square is";
    return {
      model: "surface",
      reason: `Every quantity was cut at three settings or more, and ${rows.length} runs leave ${left(counts.bent)} degrees of freedom for error, so ${what} fitted too.`,
    };
  }
  if (products > 0 && left(counts.crossed) >= leastErrorDf) {
    return {
      model: "interactions",
      reason: `${rows.length} runs leave ${left(counts.crossed)} degrees of freedom for error beside every product of two factors, so products are fitted too.`,
    };
  }
  const why =
    products > 0 || bent
      ? `${rows.length} runs leave too little error to judge more by`
      : "The plan asks for no more";
  return { model: "main", reason: `${why}, so each factor is fitted by itself.` };
}

function isWide(factor: ObservedFactor, settings: readonly number[]): boolean {
  return settings.every((value) => value > 0) && (factor.scale === "log" || ratio(settings) >= ratioForPower);
}

function ratio(values: readonly number[]): number {
  return (
    values.reduce((most, value) => Math.max(most, value)) /
    values.reduce((least, value) => Math.min(least, value))
  );
}

function spanText({ name, scale }: ObservedFactor, settings: readonly number[]): string {
  return scale === "log"
    ? `${name} was laid out in ratios`
    : `${name} was cut over a ratio of ${Number(ratio(settings).toPrecision(2))}`;
}
