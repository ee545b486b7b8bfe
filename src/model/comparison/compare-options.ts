import type { Trial } from "../../trial/index.ts";
import { listed } from "../../units/index.ts";
import { modelError } from "../error.ts";
import { fitLinear } from "../fit-linear.ts";
import type { FitOptions } from "../fit-options.ts";
import type { Fit } from "../fit.ts";
import type { Observations } from "../observations.ts";
import { isMixedFit } from "../mixed/index.ts";

/** What is compared and how; every default is stated here. Options of a fit are for trials and observations: a fit has its own. */
export interface CompareOptions extends Omit<FitOptions, "weights" | "throughOrigin" | "coded"> {
  /** The category whose levels are compared. Default: the only category there is. */
  readonly factor?: string;
  /** The level that each other one is compared with. Default: every pair is compared. */
  readonly control?: string;
  /** `simultaneous`: Tukey's or Dunnett's distribution; `holm`: Holm's steps with Bonferroni's intervals. Default `simultaneous`. */
  readonly adjust?: "simultaneous" | "holm";
  /** `unequal`: each level has a scatter of its own. Default `alike`; see `Comparison.notes` for what the runs say. */
  readonly scatter?: "alike" | "unequal";
  /** `ranks`: by order alone, where means would mislead. Default `means`. */
  readonly by?: "means" | "ranks";
}

/** Most levels that are compared with each other: a thousand pairs and more tell nobody anything. */
const mostLevels = 50;

/** A comparison that was checked at the door. */
export interface AskedComparison {
  readonly fit: Fit;
  readonly factor: string;
  readonly levels: readonly string[];
  /** Place of the control among the levels; null for every pair. */
  readonly control: number | null;
  readonly confidence: number;
  /** The runs' values by level, in the order of `levels`; null where other factors or blocks moved too. */
  readonly groups: readonly (readonly number[])[] | null;
}

/** The fit behind a comparison, its factor and its control; refuses what can't be compared. */
export function askedComparison(
  source: Trial | Observations | Fit,
  options: CompareOptions,
): AskedComparison {
  const fit = "predict" in source ? fitGiven(source, options) : fitMade(source, options);
  const name = categoryOf(fit, options.factor);
  const { levels } = fit.factors.find((factor) => factor.name === name)!;
  if (levels.length < 2) {
    throw modelError(
      `${name} with one level, ${levels[0] ?? "none"}`,
      "two levels or more with runs",
      "Cut runs at another level.",
    );
  }
  if (levels.length > mostLevels)
    throw modelError(`${levels.length} levels of ${name}`, `at most ${mostLevels}`, "Is it a name of runs?");
  if (!fit.terms.some((term) => Object.hasOwn(term, name)))
    throw modelError(`a model without ${name}`, `a model that has ${name} in it`, `Add main("${name}").`);
  const control = options.control === undefined ? null : levels.indexOf(options.control);
  if (control === -1)
    throw modelError(`${name} "${options.control}" to compare with`, `one of ${listed(levels, "or")}`);
  return {
    fit,
    factor: name,
    levels,
    control,
    confidence: fit.confidence,
    groups: alone(fit, name)
      ? levels.map((level) =>
          fit.rows.filter((row) => String(row.settings[name]) === level).map(({ value }) => value),
        )
      : null,
  };
}

function fitMade(source: Trial | Observations, options: CompareOptions): Fit {
  const { response, model, terms, confidence, log, block } = options;
  return fitLinear(source, {
    response,
    confidence,
    log,
    block,
    ...(terms === undefined ? { model: model ?? "main" } : { terms, model }),
  });
}

const optionsOfFits = ["response", "model", "terms", "confidence", "log", "block"] as const;

function fitGiven(fit: Fit, options: CompareOptions): Fit {
  const given = optionsOfFits.filter((name) => options[name] !== undefined);
  if (given.length === 0) return fit;
  throw modelError(
    `${listed(given)} for a fit that is made already`,
    "them in the fit, or a trial or observations in its place",
  );
}

function categoryOf(fit: Fit, asked: string | undefined): string {
  const categories = fit.factors.filter(({ kind }) => kind === "category").map(({ name }) => name);
  if (asked === undefined) {
    if (categories.length === 1) return categories[0];
    throw modelError(
      categories.length === 0 ? "no factor with named levels" : `no factor named`,
      categories.length === 0 ? "a category, such as edge or coolant" : `one of ${listed(categories, "or")}`,
      categories.length === 0 ? "A quantity has a slope: ask for its effect." : "Name the factor to compare.",
    );
  }
  if (categories.includes(asked)) return asked;
  const quantity = fit.factors.some(({ name }) => name === asked);
  throw modelError(
    quantity ? `the quantity ${asked} to compare by levels` : `the unknown factor "${asked}"`,
    categories.length > 0 ? `one of ${listed(categories, "or")}` : "a factor with named levels",
    quantity ? "Ask for its effect, or observe the table with it among the categories." : "",
  );
}

/** True where nothing but this factor moves the response in the model. */
function alone(fit: Fit, factor: string): boolean {
  return (
    !isMixedFit(fit) &&
    fit.blocks === null &&
    fit.weights === null &&
    !fit.throughOrigin &&
    fit.terms.every((term) => {
      const names = Object.keys(term);
      return names.length === 0 || (names.length === 1 && names[0] === factor);
    })
  );
}
