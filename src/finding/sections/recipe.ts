import { ModelError, recipes, type Fit, type Recipes } from "../../model/index.ts";
import type { Response, Trial } from "../../trial/index.ts";
import type { Part } from "../part.ts";
import { inBothSystems } from "../words.ts";

/** Recipes as sentences, before the reader is sent to the table. */
const mostSentences = 3;

/** What keeps the response's limit, as sentences and as a table; nothing where there is no limit to keep. */
export function recipeParts(trial: Trial, fit: Fit, response: Response, assurance: number): readonly Part[] {
  if (response.limit === undefined || response.aim === "target") return [];
  const side = response.aim === "smaller" ? "at or below" : "at or above";
  const limit = `${response.name} ${side} ${inBothSystems(response.limit, response.unit)}`;
  let found: Recipes;
  try {
    found = recipes(trial, fit, { assurance });
  } catch (error) {
    // A trial without a quantity has no setting to look for; that is said, and the rest of the page stands.
    if (!(error instanceof ModelError)) throw error;
    return [{ kind: "text", text: `No recipe for ${limit}: ${error.message}` }];
  }
  const held = found.recipes.filter((recipe) => recipe.setting !== null);
  if (held.length === 0) {
    const texts = [...new Set(found.recipes.map((recipe) => recipe.text))].slice(0, mostSentences);
    return [{ kind: "answer", tag: `No recipe for ${limit}`, texts }];
  }
  const rows = found.table.rows.filter((_, at) => found.recipes[at]?.setting !== null);
  // What must hold for the next part is what a shop can act on; the mean stands in the table.
  const nextPart = held.filter((recipe) => recipe.for === "next-part");
  const told = (nextPart.length > 0 ? nextPart : held).slice(0, mostSentences);
  return [
    { kind: "answer", tag: `Recipe for ${limit}`, texts: told.map((recipe) => recipe.text) },
    {
      kind: "table",
      table: { columns: found.table.columns, rows },
      caption: `The largest settings that keep ${limit} with ${Number((100 * assurance).toPrecision(4))} % assurance, most removal first.`,
    },
    ...missing(found),
    {
      kind: "quiet",
      text: "A recipe that holds here may not hold on another machine: prove it before production parts.",
    },
  ];
}

/** The combinations of categories for which there is no recipe, each reason once. */
function missing({ recipes: all }: Recipes): readonly Part[] {
  const none = all.filter((recipe) => recipe.setting === null);
  const reasons = [...new Set(none.map((recipe) => recipe.reason))].filter((reason) => reason !== "");
  if (none.length === 0) return [];
  const where =
    none.length === 1 ? "One further combination has" : `${none.length} further combinations have`;
  return [{ kind: "text", text: `${where} no recipe: ${reasons.join("; ")}.` }];
}
