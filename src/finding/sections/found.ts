import {
  effectFigure,
  FigureError,
  interactionFigure,
  responseFigure,
  varianceShareFigure,
  type Figure,
} from "../../figure/index.ts";
import { fitMethods, isMixedFit, surfaceSentences, type Fit } from "../../model/index.ts";
import type { Trial } from "../../trial/index.ts";
import { otherNotes } from "../fit-asked.ts";
import type { FittedResponse } from "../fitted-response.ts";
import type { Part, Section } from "../part.ts";
import { modelTables } from "./model-tables.ts";

/** More curves of the response than this make no page that is read. */
const mostResponseFigures = 3;

/** What was found: for each response the effects as sentences, the figures, and the tables folded behind. */
export function foundSection(trial: Trial, fitted: readonly FittedResponse[]): Section {
  const parts = fitted.flatMap((one): readonly Part[] => {
    const title: readonly Part[] =
      fitted.length > 1 ? [{ kind: "sub-heading", text: one.response.name }] : [];
    if (one.fit === null) {
      return [...title, { kind: "text", text: `No model of ${one.response.name}: ${one.noFit}` }];
    }
    return [...title, ...foundOf(trial, one, one.fit)];
  });
  return { id: "found", title: "What was found", parts };
}

function foundOf(trial: Trial, one: FittedResponse, fit: Fit): readonly Part[] {
  const level = `${Number((100 * fit.confidence).toPrecision(4))} %`;
  const quantities = fit.factors.filter((factor) => factor.kind === "quantity").slice(0, mostResponseFigures);
  const products = fit.terms.some((term) => Object.keys(term).length > 1);
  const { name } = fit.response;
  // With several quantities, readings as they were read stand off the curve by what the others did.
  const readings =
    fit.factors.filter((factor) => factor.kind === "quantity").length > 1 ? "adjusted" : "as-read";
  const adjusted = readings === "adjusted" ? ", less what the fit says the other factors did" : "";
  // Said above the effects where the model was picked in place of the plan's; else with the other notes.
  const notes = one.picked.length === 0 ? fit.notes : otherNotes(fit);
  return [
    ...(one.picked.length === 0
      ? []
      : [
          {
            kind: "warning",
            title: "This model was picked after the readings were in",
            texts: one.picked,
          } as const,
        ]),
    {
      kind: "results",
      sentences: [
        ...fit.effects.map((effect) => effect.sentence),
        ...(isMixedFit(fit) ? fit.variances.map(({ sentence }) => sentence) : []),
      ],
    },
    ...(fit.noInterval === "" ? [] : [{ kind: "text", text: `No intervals: ${fit.noInterval}` } as const]),
    ...quantities.flatMap((factor) =>
      figurePart(
        () => responseFigure(fit, { factor: factor.name, trial, readings }),
        `${name} against ${factor.name}: every reading${adjusted}, and the fitted curve with its ${level} band.`,
      ),
    ),
    ...figurePart(
      () => effectFigure(fit, { trial }),
      `The same effects side by side, each over the factor's whole range, with ${level} intervals.`,
    ),
    ...(products
      ? figurePart(
          () => interactionFigure(fit, { trial }),
          `What one factor does to ${name} at each setting of another.`,
        )
      : []),
    ...(isMixedFit(fit)
      ? figurePart(
          () => varianceShareFigure(fit, { trial }),
          `What the scatter of ${name} is made of, with ${level} intervals.`,
        )
      : []),
    ...(fit.surface === null ? [] : [{ kind: "list", items: surfaceSentences(fit) } as const]),
    { kind: "quiet", text: one.why },
    ...(notes.length === 0 ? [] : [{ kind: "quiet", text: notes.join(" ") } as const]),
    { kind: "folded", summary: "Coefficients and analysis of variance", parts: modelTables(fit) },
    {
      kind: "folded",
      summary: "Methods and sources",
      parts: [{ kind: "list", items: fitMethods(fit).effects }],
    },
  ];
}

/** A figure with its caption; where it can't be drawn, the reason in its place. */
export function figurePart(draw: () => Figure, caption: string): readonly Part[] {
  try {
    return [{ kind: "figure", figure: draw(), caption }];
  } catch (error) {
    if (!(error instanceof FigureError)) throw error;
    return [{ kind: "quiet", text: `Not drawn: ${caption} ${error.message}` }];
  }
}
