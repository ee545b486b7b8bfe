import type { Figure } from "./figure.ts";
import { settingsCut, type CurvePoint } from "./fit-curve.ts";
import { rowsToDraw } from "./fitted-rows.ts";
import { idealFinish, type IdealFinish } from "./ideal-finish.ts";
import { settled, type FigureOptions } from "./options.ts";
import { drawResponse } from "./response-drawing.ts";
import { factorAlong, factorApart, responseGroups } from "./response-groups.ts";
import { responseTable, responseText } from "./response-text.ts";
import { sheet } from "./sheet.ts";
import { shownIn } from "./shown.ts";
import type { Fit, ObservedFactor } from "../model/index.ts";
import type { Setting } from "../trial/index.ts";

export interface ResponseOptions extends FigureOptions {
  /** The factor to draw along. Default: the first quantity, else the first factor. */
  readonly factor?: string;
  /** A factor whose settings get a curve each. Default: the first other category of two to four levels that can be told; null: none. */
  readonly by?: string | null;
  /** Where the other factors stand, in the fit's units. Default: their middle or first level; if they moved together, as most often. */
  readonly at?: Readonly<Record<string, Setting>>;
  /** In the fit's unit. Default: the trial's limit for this response. */
  readonly limit?: number;
  /** Which side breaks the limit. Default: by the trial's aim, else above. */
  readonly forbidden?: "above" | "below" | "neither";
  /** For the ideal finish curve. Default: the trial's cutter, unless it has a wiper. */
  readonly noseRadiusMm?: number;
  /** The lighter band, for a single run. Default: shown for one curve, hidden where several would lie over each other. */
  readonly single?: "shown" | "hidden";
  /**
   * `adjusted` moves each reading by what the fit says its other factors did, to where the curve stands, and says so; `as-read` leaves
   * it, and draws runs cut at other settings in grey. Default: adjusted where other factors were varied, else as read.
   */
  readonly readings?: "as-read" | "adjusted";
  /** Default: of ratios where the fit is on logarithms. */
  readonly scale?: "linear" | "log";
}

/**
 * The response against one factor: the fitted curve with the band for its mean and, lighter, for a single run; every reading as
 * a small open mark and each run's mean as a filled one; the limit; and for a feed the ideal finish for the nose radius.
 * Use it to see whether the model follows the readings and where the limit is met. A category's levels get bars in place of a
 * curve. The curve spans the settings that were cut and goes no further. Where other factors were varied too, readings are drawn as
 * the fit says they would have been with these where the curve has them, and the figure says so.
 * Returns the figure with one row a run in its table. Refuses a fit without rows or factors, an unknown factor, more than four
 * curves, and a reading that is not finite.
 * Example: `responseFigure(fit, { factor: "feed", at: { speed: 220 }, trial })`.
 */
export function responseFigure(fit: Fit, options: ResponseOptions = {}): Figure {
  const { at = {}, trial } = options;
  const { document, display } = settled(options);
  rowsToDraw(fit);
  const along = factorAlong(fit, options.factor);
  const apart = factorApart(fit, along, options.by);
  const log = options.scale ?? (fit.logScale ? "log" : "linear");
  // A factor of ratios is drawn in ratios only where the response is, and where all settings allow it.
  const logAlong =
    log === "log" &&
    along.kind === "quantity" &&
    fit.rows.every((row) => Number(row.settings[along.name]) > 0);
  const spacing = logAlong ? "log" : "linear";
  const groups = responseGroups(fit, { along, apart, at, spacing, display });
  const planned = trial?.spec.responses.find((each) => each.name === fit.response.name);
  const limit = options.limit ?? planned?.limit ?? null;
  const forbidden =
    options.forbidden ??
    ({ smaller: "above", larger: "below", target: "neither" } as const)[planned?.aim ?? "smaller"];
  const ideal = idealFinish({
    response: fit.response,
    factor: along,
    noseRadiusMm: options.noseRadiusMm,
    trial,
  });
  const scene = {
    fit,
    along,
    apart,
    groups,
    limit,
    forbidden,
    ideal: idealPoints(ideal, groups[0]?.curve ?? []),
    idealLabel: ideal?.label ?? "",
    single: options.single ?? (groups.length > 1 ? "hidden" : "shown"),
    readings: options.readings ?? (othersVaried(fit, along, apart) ? "adjusted" : "as-read"),
    scales: { x: spacing, y: log },
    shown: { x: shownIn(along.unit, display), y: shownIn(fit.response.unit, display) },
    display,
  } as const;
  const drawing = drawResponse(scene);
  const text = responseText(scene, drawing.thinning);
  return sheet(document, {
    kind: "response-against-factor",
    title: options.title ?? text.title,
    note: text.note,
    description: text.description,
    table: responseTable(scene),
    height: drawing.height,
    drawings: [drawing.plot],
    letters: drawing.letters,
    key: drawing.key,
  });
}

/** Whether runs differ in a factor that is neither along the frame nor told apart by curves. */
function othersVaried(fit: Fit, along: ObservedFactor, apart: ObservedFactor | null): boolean {
  return fit.factors.some(
    (factor) =>
      factor.name !== along.name && factor.name !== apart?.name && settingsCut(fit, factor).length > 1,
  );
}

function idealPoints(
  ideal: IdealFinish | null,
  curve: readonly CurvePoint[],
): readonly { readonly x: number; readonly y: number }[] {
  if (ideal === null) return [];
  return curve.flatMap(({ setting }) => {
    const y = typeof setting === "number" ? ideal.at(setting) : null;
    return y === null || typeof setting !== "number" ? [] : [{ x: setting, y }];
  });
}
