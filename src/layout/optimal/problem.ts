import { termKey, termsOf, type ModelKind, type Term } from "../../model/index.ts";
import type { Factor } from "../../trial/index.ts";
import { refuseTooManyCentreRuns } from "../deal.ts";
import { refuseTooManyRuns } from "../define-kind.ts";
import { LayoutError } from "../error.ts";
import type { LayoutContext } from "../layout.ts";
import { allowedBy, settingsOf } from "./allowed.ts";
import { predicatesOf } from "./constraints.ts";
import { designPlan } from "./design-plan.ts";
import { checkedKeep, keptCoordinates } from "./kept-runs.ts";
import { knownStart } from "./known-start.ts";
import type { OptimalOptions } from "./options.ts";
import { searchModel, type SearchModel } from "./search-model.ts";
import type { SearchRequest } from "./search.ts";
import { refuseTooManyColumns, startsFor } from "./size-limits.ts";

export interface OptimalProblem {
  readonly model: SearchModel;
  readonly request: SearchRequest;
  readonly terms: readonly Term[];
}

/** Terms that are asked for, by name or outright, without the mean. */
export function wantedTerms(
  factors: readonly Factor[],
  wanted: ModelKind | readonly Term[],
): readonly Term[] {
  const found = typeof wanted === "string" ? termsOf(wanted, factors) : wanted;
  return found.filter((term) => Object.keys(term).length > 0);
}

/** The search that an optimal layout asks for; refuses what no search can mend. */
export function optimalProblem(
  factors: readonly Factor[],
  options: OptimalOptions,
  context: LayoutContext,
): OptimalProblem {
  const wanted = wantedTerms(factors, options.terms);
  if (factors.length === 0 || wanted.length === 0) {
    throw new LayoutError('layout "optimal": there is no term to be told. Name a factor, or give "terms".');
  }
  const lesser = lesserTerms(factors, wanted, options.lesserTerms);
  refuseTooManyColumns(factors, [...wanted, ...lesser], options.blocks);
  const predicates = [
    ...context.predicates,
    ...predicatesOf(factors, options.constraints, context.conditions),
  ];
  const keep = checkedKeep(factors, options.keep);
  const model = searchModel(factors, {
    terms: wanted,
    lesser,
    lesserSize: options.lesserSize,
    blocks: options.blocks,
    endsAreBest: options.criterion === "D" && predicates.length === 0,
  });
  const primary = model.prior.filter((value) => value === 0).length;
  const { runs = Math.max(primary + 4, keep.length + 1) } = options;
  refuseTooFew(runs, primary, keep.length, options.blocks);
  refuseTooManyRuns("optimal", runs, options.replicates);
  refuseTooManyCentreRuns(factors, options.centrePoints);
  const { plan, varianceRatio } = designPlan(model, runs, keep, options);
  const starts = startsFor(model, plan, options.starts);
  const plain = predicates.length === 0 && keep.length === 0 && !plan.plots;
  return {
    model,
    terms: wanted,
    request: {
      width: factors.length,
      plan,
      varianceRatio,
      starts,
      seed: options.seed,
      kept: keptCoordinates(model, keep),
      allowed: allowedBy(model, predicates),
      whyNot: (points, run) => {
        const settings = settingsOf(model, points, run);
        return predicates.map((predicate) => predicate(settings)).find((why) => why !== null) ?? null;
      },
      known: () => (plain ? knownStart(model, runs, options) : undefined),
    },
  };
}

/** Lesser terms beyond those that matter: a named set holds some of these, and a term given twice would count twice. */
function lesserTerms(
  factors: readonly Factor[],
  wanted: readonly Term[],
  lesser: OptimalOptions["lesserTerms"],
): readonly Term[] {
  const known = new Set(wanted.map(termKey));
  return wantedTerms(factors, lesser).filter((term) => {
    const key = termKey(term);
    if (known.has(key)) return false;
    known.add(key);
    return true;
  });
}

function refuseTooFew(runs: number, primary: number, kept: number, blocks: number): void {
  if (kept >= runs) {
    throw new LayoutError(
      `layout.runs: ${runs} runs, of which ${kept} are kept, leave none to choose. Take more than ${kept}.`,
    );
  }
  if (runs >= primary) return;
  throw new LayoutError(
    `layout.runs: ${primary} terms${blocks > 1 ? " (mean and blocks among them)" : " (the mean among them)"} can't be told by ${runs} runs. Take at least ${primary}, better ${primary + 4}, or move terms to "lesserTerms".`,
  );
}
