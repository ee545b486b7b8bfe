import { keptRegion, keptRegionMethod, nextPassesMethod } from "../model/index.ts";
import { whatNext } from "../review/index.ts";
import type { Trial } from "../trial/index.ts";
import { isRefusal, messageOf } from "./error.ts";
import { tableHtmlOf } from "./fit-tables.ts";
import type { RecipeNextAnswer } from "./recipe-api.ts";
import { recipeQuestion, type Typed } from "./recipe-question.ts";
import { addedRunsView } from "./review-view.ts";

const nothing: RecipeNextAnswer = {
  sentences: [],
  table: "",
  add: null,
  room: "",
  roomTable: "",
  methods: [],
  refusal: "",
};

/** What to cut next for the recipe that was asked for, what stopping costs, and how much room the limits leave. */
export function recipeNextAnswer(trial: Trial, typed: Typed): RecipeNextAnswer {
  const { problems, fits, asked } = recipeQuestion(trial, typed);
  // What is wrong is told with the recipe.
  if (problems.length > 0 || fits.length === 0) return nothing;
  try {
    const { limits, at = {}, objective } = asked;
    const next = whatNext(trial, fits, { limits, at, ...(objective === undefined ? {} : { objective }) });
    const [{ assurance } = { assurance: undefined }] = Object.values(limits);
    // One assurance is typed for all limits; here it is that of all together.
    const room = keptRegion(trial, fits, { at, limits, ...(assurance === undefined ? {} : { assurance }) });
    const isWorthIt = next.advice === "cut" || (next.advice === "no recipe yet" && next.ifKnown.kept);
    return {
      sentences: next.sentences,
      table: tableHtmlOf(next.table, "The passes one after another, and the doubt that is left after each."),
      add: isWorthIt
        ? addedRunsView(
            next.passes.map(({ settings }) => settings),
            trial.spec,
          )
        : null,
      room: room.text,
      roomTable: tableHtmlOf(room.table, "Settings that keep every limit, place by place."),
      methods: [nextPassesMethod, keptRegionMethod],
      refusal: "",
    };
  } catch (error) {
    if (!isRefusal(error)) throw error;
    return { ...nothing, refusal: messageOf(error) };
  }
}
