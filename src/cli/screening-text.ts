import {
  modelsWithinReach,
  twoStageScreening,
  type Heredity,
  type ModelsWithinReach,
  type Observations,
  type TwoStageScreening,
} from "../model/index.ts";
import { formatNumber } from "../units/index.ts";
import { alignedTable, wrapped } from "./aligned-table.ts";

/** What a screening says: the two stages where the runs mirror one another, and every model that does about as well. */
export interface Screened {
  readonly twoStage: TwoStageScreening;
  readonly withinReach: ModelsWithinReach;
}

export function screen(
  observations: Observations,
  options: { readonly heredity: Heredity; readonly log: boolean },
): Screened {
  return {
    twoStage: twoStageScreening(observations, options),
    withinReach: modelsWithinReach(observations, options),
  };
}

/** Lines beyond these are told by their number. */
const mostModels = 12;

export function screeningText({ twoStage, withinReach }: Screened, width: number): string {
  const bullet = (text: string) => wrapped(`- ${text}`, width, { indent: "  " });
  const { models, support } = withinReach;
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
  ].join("\n");
}
