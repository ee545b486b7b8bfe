import { differenceUnit } from "../units/index.ts";
import { fitLinear, type Fit, type Observations, type ObservedFactor } from "../model/index.ts";
import { confidenceText } from "./fitted-rows.ts";
import { ratioText, toHalfWidth } from "./number-text.ts";
import type { Setting } from "../trial/index.ts";

/** Drift along cutting order on the response's own scale, or why it can't be told. */
export type Drift =
  | {
      readonly line: readonly {
        readonly order: number;
        readonly estimate: number;
        readonly low: number;
        readonly high: number;
      }[];
      /** From the first run to the last: a ratio on logarithms, else a difference in the response's unit. */
      readonly total: { readonly estimate: number; readonly low: number; readonly high: number };
      readonly as: "ratio" | "difference";
      readonly short: string;
      readonly text: string;
    }
  | { readonly reason: string; readonly short: string };

const place = "place in cutting order";

/**
 * The steady drift from the first run to the last: the fit's own model once more, with place in cutting order as one more term, so
 * that what the factors did is not taken for drift. The line passes through the mean of the runs at their mean place; its band is
 * the interval of the slope. On logarithms drift is a ratio.
 */
export function driftOf(fit: Fit): Drift {
  const { rows, logScale, confidence } = fit;
  const orders = rows.map((row) => row.order);
  const first = Math.min(...orders);
  const last = Math.max(...orders);
  if (rows.length < 3 || first === last)
    return { reason: "three runs or more are needed.", short: "too few runs for drift" };
  const again = fitLinear(withPlace(fit, first, last), {
    terms: [...fit.terms, { [place]: 1 }],
    confidence,
    throughOrigin: fit.throughOrigin,
    block: fit.blocks === null ? "ignore" : "fit",
    ...(fit.weights === null ? {} : { weights: fit.weights }),
  });
  const slope = again.coefficients.find(
    (coefficient) => coefficient.term[place] === 1 && Object.keys(coefficient.term).length === 1,
  );
  const set = again.inseparable.find((each) => each.terms.some((term) => place in term));
  if (set !== undefined || slope === undefined) {
    const others = set?.labels.filter((label) => label !== place).join(", ") ?? "the factors";
    return {
      reason: `cutting order and ${others} moved together, so drift can't be told from their effect.`,
      short: `drift can’t be told from ${others}`,
    };
  }
  if (slope.low === null || slope.high === null) {
    return {
      reason: "with cutting order in the model no run is left over to judge scatter by.",
      short: "no run left to judge drift",
    };
  }
  const values = rows.map((row) => row.fitted + row.residual);
  const centre = { order: mean(orders), value: mean(values) };
  const back = (value: number): number => (logScale ? Math.exp(value) : value);
  const steps = Array.from({ length: 41 }, (_, index) => first + ((last - first) * index) / 40);
  const { estimate, low, high } = slope;
  const line = steps.map((order) => {
    const away = order - centre.order;
    const ends = [centre.value + low * away, centre.value + high * away];
    return {
      order,
      estimate: back(centre.value + estimate * away),
      low: back(Math.min(...ends)),
      high: back(Math.max(...ends)),
    };
  });
  const span = last - first;
  const none = logScale ? 1 : 0;
  const total = { estimate: back(estimate * span), low: back(low * span), high: back(high * span) };
  const { low: least, high: most } = total;
  const number = (value: number): string =>
    logScale
      ? `×${ratioText(value, least, most)}`
      : `${value > 0 ? "+" : ""}${toHalfWidth(value, (most - least) / 2)}`;
  const unit = logScale || fit.response.unit === "" ? "" : ` ${differenceUnit(fit.response.unit)}`;
  const told = `${number(total.estimate)}${unit} (${confidenceText(confidence)} ${number(total.low)} to ${number(total.high)})`;
  const seen = total.low > none || total.high < none;
  return {
    line,
    total,
    as: logScale ? "ratio" : "difference",
    short: `first to last ${number(total.estimate)}${unit} (${number(least)} to ${number(most)})`,
    text: `Drift from the first run to the last, the factors allowed for: ${told}; ${seen ? "it stands out from the scatter" : "it does not stand out from the scatter"}.`,
  };
}

/** The rows of a fit on the scale that was fitted, with place in cutting order as a factor. A power law's factors go in as logarithms. */
function withPlace(fit: Fit, first: number, last: number): Observations {
  const logged = (factor: ObservedFactor): boolean => fit.kind === "power-law" && factor.kind === "quantity";
  const own = fit.factors.map((factor) =>
    logged(factor)
      ? {
          ...factor,
          unit: "",
          low: Math.log(factor.low),
          high: Math.log(factor.high),
          scale: "linear" as const,
        }
      : factor,
  );
  const settings = (row: Fit["rows"][number]): Record<string, Setting> => ({
    ...Object.fromEntries(
      fit.factors.map((factor) => {
        const setting = row.settings[factor.name] ?? "";
        return [factor.name, logged(factor) ? Math.log(Number(setting)) : setting];
      }),
    ),
    [place]: row.order,
  });
  return {
    response: { name: fit.response.name, unit: "" },
    factors: [
      ...own,
      { name: place, kind: "quantity", unit: "", levels: [], low: first, high: last, scale: "linear" },
    ],
    rows: fit.rows.map((row) => ({
      run: row.run,
      order: row.order,
      block: row.block,
      settings: settings(row),
      value: row.fitted + row.residual,
      readings: row.readings,
      single: [],
    })),
    repeats: null,
    ...(fit.blocks === null ? {} : { blocks: fit.blocks }),
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
