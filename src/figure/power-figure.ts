import { quantityAxis } from "./axis.ts";
import { figureError, requireFinite } from "./error.ts";
import type { Figure } from "./figure.ts";
import { framed } from "./frame.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { groupStyles } from "./palette.ts";
import type { PowerCurve } from "./power-curve.ts";
import { placeText, powerMarks, type Reached } from "./power-marks.ts";
import { sheet } from "./sheet.ts";
import { heading } from "./shown.ts";

export interface PowerOptions extends FigureOptions {
  /** What runs along the frame, such as "passes" or "effect on Ra". */
  readonly along: string;
  readonly unit?: string;
  /** `only` where x is counted, as passes are. Default `any`. */
  readonly whole?: "only" | "any";
  /** The chance that is wanted, with a line across. Default 0.8. */
  readonly wanted?: number;
}

const height = 344;

/**
 * The chance of seeing an effect against the number of passes, or against its size, from numbers worked out beforehand (`judge`).
 * Use it to decide how many passes are worth cutting. Says where each curve first reaches the wanted chance. One row a point in the
 * table. Refuses no points, more than four curves, and a chance outside 0 to 1.
 * Example: `powerFigure([{ label: "", points: [{ x: 8, power: 0.46 }, { x: 16, power: 0.8 }] }], { along: "passes", whole: "only" })`.
 */
export function powerFigure(curves: readonly PowerCurve[], options: PowerOptions): Figure {
  const { along, unit = "", whole = "any", wanted = 0.8 } = options;
  const { document } = settled(options);
  check(curves);
  const sorted = curves.map((curve) => ({ ...curve, points: [...curve.points].sort((a, b) => a.x - b.x) }));
  const x = quantityAxis({
    name: along,
    unit,
    values: sorted.flatMap(({ points }) => points.map((point) => point.x)),
    whole,
    count: 9,
    margin: 0.04,
  });
  const y = {
    ...quantityAxis({
      name: "chance of seeing the effect",
      unit: "",
      values: [0, 1],
      fixedTicks: [0, 0.2, 0.4, 0.6, 0.8, 1],
      margin: 0.03,
    }),
    texts: ["0 %", "20 %", "40 %", "60 %", "80 %", "100 %"],
  };
  const on = framed(x, y, { height });
  const reached = sorted.map((curve) => ({
    curve,
    at: curve.points.find((point) => point.power >= wanted) ?? null,
  }));
  const title = options.title ?? `Power against ${along}`;
  const percent = `${roundedText(wanted * 100, 2)} %`;
  return sheet(document, {
    kind: "power",
    title,
    note: `wanted: ${percent}`,
    description: [
      `${title}.`,
      ...reached.map(({ curve, at }) => curveSentence(curve, at, { along, unit, percent })),
    ].join(" "),
    table: {
      columns: ["curve", heading(along, unit), "power"],
      rows: sorted.flatMap(({ label, points }) => points.map((point) => [label, point.x, point.power])),
    },
    height,
    drawings: [
      { ...on.options, marks: [...powerMarks(sorted, reached, { wanted, percent, unit, along }, on)] },
    ],
    letters: on.letters,
  });
}

function check(curves: readonly PowerCurve[]): void {
  if (
    curves.length === 0 ||
    curves.length > groupStyles.length ||
    curves.some(({ points }) => points.length === 0)
  ) {
    throw figureError({
      given: `${curves.length} curves with ${curves.map(({ points }) => points.length).join(", ") || "no"} points`,
      expected: `one to ${groupStyles.length} curves, each with at least one point`,
      mend: "Work out the power for some numbers of passes first.",
    });
  }
  for (const { points } of curves) {
    for (const { x, power } of points) {
      requireFinite(x, "a place along a power curve");
      if (power >= 0 && power <= 1) continue;
      throw figureError({
        given: `power ${power} at ${x}`,
        expected: "a chance from 0 to 1",
        mend: "Give power as a fraction, 0.8 for 80 %.",
      });
    }
  }
}

function curveSentence(
  curve: PowerCurve,
  at: Reached["at"],
  words: { readonly along: string; readonly unit: string; readonly percent: string },
): string {
  const first = curve.points[0];
  const last = curve.points.at(-1);
  if (first === undefined || last === undefined) return "";
  const name = curve.label === "" ? "The chance" : `${curve.label}: the chance`;
  const place = (x: number): string => placeText(x, words);
  const run = `${name} goes from ${roundedText(first.power * 100, 2)} % at ${place(first.x)} to ${roundedText(last.power * 100, 2)} % at ${place(last.x)}`;
  return `${run}; ${at === null ? `it does not reach ${words.percent}` : `${words.percent} is first reached at ${place(at.x)}`}.`;
}
