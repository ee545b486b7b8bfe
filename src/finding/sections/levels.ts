import { comparisonFigure } from "../../figure/index.ts";
import { compareLevels, ModelError, type Comparison, type Fit } from "../../model/index.ts";
import type { FittedResponse } from "../fitted-response.ts";
import type { Part, Section } from "../part.ts";
import { figurePart } from "./found.ts";

/** Pairs as sentences up to here; of more, the table tells the rest. */
const mostSentences = 12;

/**
 * Edges, coolants and the like beside each other: for each category that a model holds, every pair as a sentence with intervals that hold all together, the figure,
 * and the method. From the fit that the page shows, so that whole plots and other factors are allowed for as they are there.
 */
export function levelsSection(fitted: readonly FittedResponse[]): Section {
  const parts = fitted.flatMap(({ fit }) => (fit === null ? [] : levelsOf(fit, fitted.length > 1)));
  return { id: "levels", title: "Levels compared", parts };
}

function levelsOf(fit: Fit, isOneOfSeveral: boolean): readonly Part[] {
  const factors = fit.factors.filter(
    ({ kind, name, levels }) =>
      kind === "category" && levels.length > 1 && fit.terms.some((term) => Object.hasOwn(term, name)),
  );
  const { name: response } = fit.response;
  return factors.flatMap(({ name }): readonly Part[] => {
    const title: readonly Part[] =
      isOneOfSeveral || factors.length > 1
        ? [{ kind: "sub-heading", text: isOneOfSeveral ? `${response} by ${name}` : `By ${name}` }]
        : [];
    try {
      return [...title, ...told(compareLevels(fit, { factor: name }), fit)];
    } catch (error) {
      // Fifty levels and more are no comparison; that is said, and the rest of the page stands.
      if (!(error instanceof ModelError)) throw error;
      return [...title, { kind: "text", text: `${response} by ${name} is not compared: ${error.message}` }];
    }
  });
}

function told(comparison: Comparison, fit: Fit): readonly Part[] {
  const { pairs, factor, response, overall, methodText } = comparison;
  const rest = pairs.length - mostSentences;
  // What the fit itself notes stands with the effects.
  const said = new Set(fit.notes);
  const notes = comparison.notes.filter((note) => !said.has(note));
  return [
    { kind: "results", sentences: pairs.slice(0, mostSentences).map(({ sentence }) => sentence) },
    ...(rest > 0
      ? [{ kind: "text", text: `The table behind the figure tells the other ${rest} pairs.` } as const]
      : []),
    ...figurePart(
      () => comparisonFigure(comparison),
      `How far ${response.name} with each ${factor} is from that with the others${pairs.length > 1 ? ", with intervals that hold for all pairs together" : ""}.`,
    ),
    ...(notes.length === 0 ? [] : [{ kind: "text", text: notes.join(" ") } as const]),
    { kind: "quiet", text: overall === null ? methodText : `${overall.text} ${methodText}` },
  ];
}
