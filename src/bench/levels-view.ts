import { comparisonFigure, equivalenceFigure, locationScatterFigure } from "../figure/index.ts";
import { compareLevels, equivalence, isMixedFit, scatterFromReplicates, type Fit } from "../model/index.ts";
import { differenceUnit, isUnit, listed, parseQuantity, valueIn, type Dimension } from "../units/index.ts";
import type { AlikeView, LevelsView, ReviewQuestion, ScatterView } from "./api.ts";
import { BenchError, isRefusal, messageOf } from "./error.ts";
import { drawn } from "./plan-figures.ts";

/** The levels of one category of the fit beside each other; null where the fit has none. */
export function levelsView(fit: Fit, asked: ReviewQuestion): LevelsView | null {
  const factors = fit.factors.filter(
    ({ kind, name, levels }) =>
      kind === "category" && levels.length > 1 && fit.terms.some((term) => Object.hasOwn(term, name)),
  );
  const chosen = factors.find(({ name }) => name === asked.compare) ?? factors[0];
  if (chosen === undefined) return null;
  const factor = chosen.name;
  const control = chosen.levels.find((level) => level === asked.control);
  const options = { factor, ...(control === undefined ? {} : { control }) };
  const base = {
    factor,
    factors: factors.map(({ name }) => name),
    levels: chosen.levels,
    control: control ?? "",
    marginHint: fit.logScale
      ? "As a share of the value, such as 10 %"
      : `In ${differenceUnit(fit.response.unit)}`,
  };
  try {
    const comparison = compareLevels(fit, options);
    const said = new Set(fit.notes);
    return {
      ...base,
      sentences: comparison.pairs.map(({ sentence }) => sentence),
      overall: comparison.overall?.text ?? "",
      notes: comparison.notes.filter((note) => !said.has(note)),
      method: comparison.methodText,
      figures: drawn(
        [
          [
            () => comparisonFigure(comparison),
            `${fit.response.name} with each ${factor}, and how far apart.`,
          ],
        ],
        { from: 200 },
      ),
      alike: alikeView(fit, options, asked.margin),
      refusal: "",
    };
  } catch (error) {
    if (!isRefusal(error)) throw error;
    return {
      ...base,
      sentences: [],
      overall: "",
      notes: [],
      method: "",
      figures: [],
      alike: null,
      refusal: messageOf(error),
    };
  }
}

/** Whether they are alike within the margin; null until one is asked for. */
function alikeView(
  fit: Fit,
  options: { readonly factor: string; readonly control?: string },
  margin: string,
): AlikeView | null {
  if (margin.trim() === "") return null;
  try {
    const found = equivalence(fit, { ...options, margin: marginFrom(margin, fit) });
    return {
      sentences: found.pairs.map(({ sentence }) => sentence),
      method: found.methodText,
      figures: drawn([[() => equivalenceFigure(found), "How far apart, against the margin."]], { from: 300 }),
      refusal: "",
    };
  } catch (error) {
    if (!isRefusal(error)) throw error;
    return { sentences: [], method: "", figures: [], refusal: messageOf(error) };
  }
}

/** On a log scale a share or a factor, else a difference in the response's unit. */
function marginFrom(text: string, { logScale, response }: Fit): number {
  const typed = text.trim().replace(",", ".");
  if (!logScale) {
    const { unit } = response;
    return isUnit(unit) ? valueIn<Dimension>(parseQuantity(typed, { unit }), unit) : Number(typed);
  }
  const share = /^(\d+(?:\.\d*)?|\.\d+)\s*%$/u.exec(typed);
  if (share !== null) return 1 + Number(share[1]) / 100;
  const factor = Number(typed);
  if (factor > 1 && Number.isFinite(factor)) return factor;
  throw new BenchError(
    422,
    `The margin "${text}" can't be read: expected a share such as 10 %, or a factor above 1 such as 1.1.`,
  );
}

/** What moves the scatter; null where nothing was cut twice, and where the fit has sources of scatter of its own to tell. */
export function scatterView(fit: Fit): ScatterView | null {
  if (isMixedFit(fit)) return null;
  try {
    const found = scatterFromReplicates(fit);
    if (found.scatter.length === 0) return null;
    const said = new Set(fit.notes);
    const names = listed([...new Set(found.scatter.map(({ factor }) => factor))]);
    return {
      sentences: found.scatter.map(({ sentence }) => sentence),
      notes: found.notes.filter((note) => !said.has(note)),
      method: found.methodText,
      figures: drawn(
        [
          [
            () => locationScatterFigure(found),
            `${fit.response.name} and its scatter, setting by setting of ${names}.`,
          ],
        ],
        { from: 400 },
      ),
    };
  } catch (error) {
    if (isRefusal(error)) return null;
    throw error;
  }
}
