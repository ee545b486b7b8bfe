import { fitCurve, type CurveFit } from "../../model/index.ts";
import { differenceUnit, formatNumber } from "../../units/index.ts";
import { alignedTable, wrapped } from "../aligned-table.ts";
import { contrastAsked, contrastJson } from "../contrast-option.ts";
import { UsageError } from "../error.ts";
import { numberOption, probabilityOption, requiredOption, textOption } from "../option-values.ts";
import { readDataTable } from "../read-file.ts";
import type { Verb } from "../verb.ts";

export const curveVerb: Verb = {
  name: "curve",
  summary: "fit a curve given by an expression",
  help: [
    'trycut curve DATA.csv --response y --expression "b1*(1-exp(-b2*x))" --start b1=500,b2=0.0001 [--json]',
    "",
    "Fits a curve by least squares. The expression is plain algebra: + - * / ^, brackets, exp, log (natural), sqrt, sin, cos, tan,",
    "atan, abs, pi, the names of columns (in single quotes where they hold spaces) and of parameters.",
    "",
    "  --response NAME      the column to explain, or an expression of columns such as log(y)",
    "  --expression TEXT    the curve",
    "  --start b1=1,b2=2    where the search begins, one number a parameter",
    "  --confidence 0.95    of the intervals",
    "  --starts 20          search from so many starts, drawn about --start; the best fit is kept",
    "  --seed 1             of the drawn starts",
    "  --spread 10          how far they are drawn: from start / 10 to start × 10",
    '  --at x=2             the curve there, with intervals; several places with ";" between',
    "  --from x=1 --to x=2  what going from one setting to another does to the curve, with its interval by the curve's slopes at the",
    "                       estimate; what --to leaves out stays as in --from",
    "  --profile            intervals of the parameters by profile likelihood, which need not be symmetric",
  ].join("\n"),
  options: {
    response: { type: "string" },
    expression: { type: "string" },
    start: { type: "string" },
    confidence: { type: "string" },
    starts: { type: "string" },
    seed: { type: "string" },
    spread: { type: "string" },
    at: { type: "string" },
    from: { type: "string" },
    to: { type: "string" },
    profile: { type: "boolean" },
  },
  words: [1, 1],
  run: async ({ words: [file], options, json }, terminal) => {
    const start = numbersTyped("--start", requiredOption(options, "start"));
    const at = (textOption(options, "at") ?? "").split(";").filter((text) => text.trim() !== "");
    const places = at.map((text) => numbersTyped("--at", text));
    const starts = numberOption(options, "starts");
    const seed = numberOption(options, "seed");
    const spread = numberOption(options, "spread");
    const response = requiredOption(options, "response");
    const expression = requiredOption(options, "expression");
    const confidence = probabilityOption(options, "confidence");
    const table = await readDataTable(file, terminal);
    const fit = fitCurve(
      {
        columns: table.columns.map(({ name, unit, texts, numbers }) => ({
          name,
          unit,
          values: numbers ?? texts,
        })),
        rowNames: table.lines.map((line) => `${file} line ${line}`),
      },
      {
        response,
        expression,
        start,
        ...(confidence === undefined ? {} : { confidence }),
        ...(starts === undefined ? {} : { starts }),
        ...(seed === undefined ? {} : { seed }),
        ...(spread === undefined ? {} : { spread }),
        intervals: options["profile"] === true ? "profile" : "linear",
      },
    );
    const asked = contrastAsked(fit, options, {
      read: (typed, option) => numbersTyped(option, typed),
      examples: ["x=1", "x=2"],
    });
    terminal.out(
      json
        ? JSON.stringify({ ...curveJson(fit, places), ...contrastJson(asked) })
        : [
            ...(asked ? [wrapped(asked.sentence, terminal.width), ""] : []),
            curveText(fit, places, terminal.width),
          ].join("\n"),
    );
    return 0;
  },
};

/** "b1=500,b2=0.0001". */
function numbersTyped(option: string, text: string): Readonly<Record<string, number>> {
  const [what, example] =
    option === "--start" ? ["parameter with its start", "b1=500"] : ["column with its setting", "x=2"];
  const pairs = text.split(",").map((part): [string, number] => {
    const [, name, number] = /^\s*([^=]+?)\s*=\s*(\S+)\s*$/.exec(part) ?? [];
    const value = Number(number);
    if (name === undefined || !Number.isFinite(value))
      throw new UsageError(
        `${option} "${part}": expected a ${what}, such as ${example} (decimal point, commas between).`,
      );
    return [name, value];
  });
  const names = pairs.map(([name]) => name);
  const twice = names.find((name, i) => names.indexOf(name) < i);
  if (twice !== undefined)
    throw new UsageError(`${option} gives ${twice} twice; expected each ${what.split(" ")[0]} once.`);
  return Object.fromEntries(pairs);
}

function curveJson(fit: CurveFit, places: readonly Readonly<Record<string, number>>[]) {
  return {
    parameters: fit.parameters.map(({ name, estimate, standardError, low, high }) => ({
      name,
      estimate,
      standardError,
      low,
      high,
    })),
    residualSumOfSquares: fit.residualSumOfSquares,
    residualSd: fit.residualSd,
    df: fit.df,
    converged: fit.converged,
    intervals: fit.intervals,
    covariance: fit.covariance,
    ...(fit.starts === null ? {} : { starts: fit.starts }),
    ...(places.length === 0 ? {} : { predictions: places.map((at) => fit.predict(at)) }),
    reason: fit.reason,
    notes: fit.notes,
  };
}

function curveText(
  fit: CurveFit,
  places: readonly Readonly<Record<string, number>>[],
  width: number,
): string {
  const percent = `${Math.round(fit.confidence * 1000) / 10} %`;
  const rows = fit.parameters.map(({ name, estimate, standardError, low, high }) => {
    const shown = (value: number | null) =>
      value === null
        ? fit.intervals === "profile" && fit.noInterval === ""
          ? "open"
          : "not known"
        : formatNumber(value, standardError ? { uncertainty: standardError } : { digits: 6 });
    return [name, shown(estimate), shown(low), shown(high)];
  });
  const scatter =
    fit.residualSd === null
      ? "No scatter is left to judge by."
      : `Scatter about the curve ${formatNumber(fit.residualSd, { digits: 3 })}${fit.response.unit === "" ? "" : ` ${differenceUnit(fit.response.unit)}`} on ${fit.df} degrees of freedom.`;
  return [
    wrapped(
      fit.converged ? `${fit.response.name} by ${fit.expression}.` : `Not a fit to rely on: ${fit.reason}.`,
      width,
    ),
    "",
    alignedTable(["parameter", "estimate", `${percent} from`, "to"], rows),
    "",
    wrapped(scatter, width),
    ...places.map((at) => wrapped(fit.predict(at).text, width)),
    ...fit.notes.map((note) => wrapped(`- ${note}`, width, { indent: "  " })),
  ].join("\n");
}
