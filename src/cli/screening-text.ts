import {
  fitLinear,
  modelsWithinReach,
  twoStageScreening,
  validateTwoStages,
  type Fit,
  type Heredity,
  type ModelsWithinReach,
  type Observations,
  type TwoStageScreening,
} from "../model/index.ts";
import { otherNotes } from "../finding/index.ts";
import { formatNumber } from "../units/index.ts";
import { alignedTable, wrapped } from "./aligned-table.ts";

/** What a screening says: the two stages where the runs mirror one another, and every model that does about as well. */
export interface Screened {
  readonly twoStage: TwoStageScreening;
  readonly withinReach: ModelsWithinReach;
  /** What the screening found, fitted; it says that these runs chose it. */
  readonly fit: Fit;
  /** What the choice in two stages costs, in a sentence; empty where it was not made or not tried out. */
  readonly twoStageCost: string;
}

export function screen(
  observations: Observations,
  options: { readonly heredity: Heredity; readonly log: boolean; readonly confidence: number },
): Screened {
  const { confidence, ...search } = options;
  const twoStage = twoStageScreening(observations, search);
  const withinReach = modelsWithinReach(observations, search);
  const terms = twoStage.possible ? twoStage.fitTerms : withinReach.models[0].fitTerms;
  // Runs are few where they are screened; of a table that is long all the same the choice is marked only.
  const tried =
    twoStage.possible && observations.rows.length <= mostValidated
      ? validateTwoStages(observations, search)
      : null;
  const chosenFrom = tried?.fit.chosenFrom ?? terms.chosenFrom;
  return {
    twoStage,
    withinReach,
    fit: fitLinear(observations, { terms, log: options.log, confidence, chosenFrom }),
    twoStageCost: tried?.sentence ?? "",
  };
}

/** Runs up to which a choice in two stages is made anew without each of them: about a second. */
const mostValidated = 100;

/** Lines beyond these are told by their number. */
const mostModels = 12;

export function screeningText({ twoStage, withinReach, fit, twoStageCost }: Screened, width: number): string {
  const bullet = (text: string) => wrapped(`- ${text}`, width, { indent: "  " });
  const { models, support } = withinReach;
  // Where no widening was found, the sentence on the cost says what the note would.
  const notes = twoStageCost === "" || fit.chosenFrom?.widening !== undefined ? fit.notes : otherNotes(fit);
  const more = models.length - mostModels;
  return [
    "Screening: which terms do something",
    ...twoStage.sentences.map(bullet),
    ...withinReach.sentences.map(bullet),
    "",
    alignedTable(
      ["model", "behind the best", "scatter", "explained"],
      models
        .slice(0, mostModels)
        .map(({ labels, behind, residualSd, rSquared }) => [
          labels.length === 0 ? "the mean alone" : labels.join(", "),
          behind.toFixed(1),
          formatNumber(residualSd, { digits: 3 }),
          rSquared === null ? "" : `${(100 * rSquared).toFixed(0)} %`,
        ]),
    ),
    ...(more > 0 ? [`… and ${more} more.`] : []),
    "",
    alignedTable(
      ["term", "share of support"],
      support.slice(0, mostModels).map(({ label, share }) => [label, `${(100 * share).toFixed(0)} %`]),
    ),
    "",
    `${twoStage.possible ? "What the two stages found" : "The best of them"}, fitted with the factors of its products:`,
    ...(fit.effects.length === 0 ? [bullet("The mean alone: no factor is in it.")] : []),
    ...fit.effects.map(({ sentence }) => bullet(sentence)),
    ...notes.map(bullet),
    ...(twoStageCost === "" ? [] : [bullet(twoStageCost)]),
    ...(fit.chosenFrom?.widening === undefined && twoStageCost === ""
      ? [
          bullet(
            "Add --draws 2000 for intervals of the best model with the choice made anew in each draw, or --leave-out run for what the choice costs.",
          ),
        ]
      : []),
  ].join("\n");
}
