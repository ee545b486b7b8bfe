import { differenceUnit } from "../units/index.ts";
import * as Plot from "@observablehq/plot";
import { median } from "simple-statistics";
import { normalQuantile } from "../numerics/index.ts";
import type { Fit, Unreplicated } from "../model/index.ts";
import { quantityAxis } from "./axis.ts";
import { figureError } from "./error.ts";
import type { Figure } from "./figure.ts";
import { framed, outline, type Framed } from "./frame.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { lettering, palette } from "./palette.ts";
import { sheet } from "./sheet.ts";
import { heading } from "./shown.ts";

interface Place {
  readonly label: string;
  readonly effect: number;
  readonly size: number;
  readonly expected: number;
  readonly chance: number;
  readonly stands: boolean;
}

const height = 384;
/** Names beside the marks, largest first; the table has the others. */
const mostNamed = 8;

/**
 * The sizes of effects without replicates, rising, against the half-normal quantiles expected of inert ones, with a line through the inert ones alone (the median
 * of size over expected size), so that large effects don't tilt it. Use it to see which effects stand out, and whether the
 * rest look like scatter.
 *
 * Places are (k − ½)/m of the half-normal distribution (Daniel 1959, Technometrics 1, 311–341). The limits are those drawn for this number of effects
 * (`Unreplicated.exact`). On the scale that was fitted. One row an effect in the table. Refuses a fit that was not judged without replicates.
 * Example: `halfNormalFigure(fit)`.
 */
export function halfNormalFigure(fit: Fit, options: FigureOptions = {}): Figure {
  const { document } = settled(options);
  const { unreplicated } = fit;
  if (unreplicated === null)
    throw figureError({
      given: `a fit of ${fit.response.name} whose effects are not judged by one another`,
      expected: "a saturated fit of effects of one kind, without an error left",
      mend: "Draw effectFigure, which has intervals.",
    });
  const places = placesOf(unreplicated);
  const { exact, pseudoStandardError } = unreplicated;
  const unit = fit.logScale ? "" : differenceUnit(fit.response.unit);
  const largest = Math.max(...places.map(({ size }) => size), exact.simultaneousMargin);
  const x = quantityAxis({
    name: "expected of inert effects",
    unit: "sd",
    values: [0, ...places.map(({ expected }) => expected * 1.1)],
    margin: 0,
  });
  const y = quantityAxis({
    name: fit.logScale ? `size of the effect on ln ${fit.response.name}` : "size of the effect",
    unit,
    values: [0, largest * 1.06],
    margin: 0,
  });
  const on = framed(x, y, { height, extraRight: 84 });
  const standing = places.filter(({ stands }) => stands);
  const title = options.title ?? `${fit.response.name}: which effects stand out`;
  const names = standing.map(({ label }) => label).reverse();
  return sheet(document, {
    kind: "half-normal",
    title,
    note: `${places.length} effects, no replicates`,
    description: [
      `${title}: ${places.length} effects from low to high, judged by the typical size of the rest (pseudo standard error ${roundedText(pseudoStandardError, 3)}).`,
      standing.length === 0
        ? "None passes the limit for one effect."
        : `${names.join(", ")} ${names.length === 1 ? "passes" : "pass"} the limit for one effect (${roundedText(exact.margin, 3)}).`,
      `The limit for all effects together is ${roundedText(exact.simultaneousMargin, 3)}. Both were drawn for ${places.length} inert effects, ${exact.draws.toLocaleString("en")} times.`,
    ].join(" "),
    table: {
      columns: ["effect", heading("low to high", unit), "expected size [sd]", "chance if inert"],
      rows: [...places]
        .reverse()
        .map(({ label, effect, expected, chance }) => [label, effect, expected, chance]),
    },
    height,
    drawings: [
      {
        ...on.options,
        marks: [
          ...on.under,
          ...limitLines(unreplicated, on),
          ...referenceLine(slopeOfInert(places), x.domain[1], y.domain[1]),
          ...placeMarks(places, on),
          outline(),
        ],
      },
    ],
    letters: [...on.letters, ...limitLetters(unreplicated, on)],
  });
}

function placesOf({ effects, exact }: Unreplicated): readonly Place[] {
  const places = effects.map(({ label, effect }, k) => ({
    label,
    effect,
    size: Math.abs(effect),
    chance: exact.chances[k].single,
    stands: Math.abs(effect) > exact.margin,
  }));
  places.sort((a, b) => a.size - b.size || (a.label < b.label ? -1 : 1));
  return places.map((place, k) => ({
    ...place,
    expected: normalQuantile(0.5 + (k + 0.5) / (2 * places.length)),
  }));
}

function limitLines({ exact }: Unreplicated, on: Framed): readonly Plot.Markish[] {
  return [
    { at: exact.margin, dash: "6 4" },
    { at: exact.simultaneousMargin, dash: "10 3 2 3" },
  ].map(({ at, dash }, k) =>
    Plot.ruleY([at], {
      x1: on.x.back(on.frame.left),
      x2: on.x.back(on.frame.right),
      stroke: palette.caution,
      strokeWidth: 1.2,
      strokeDasharray: dash,
      className: `part-limit-${k === 0 ? "one" : "all"}`,
    }),
  );
}

function limitLetters({ exact }: Unreplicated, on: Framed) {
  const one = on.y.at(exact.margin);
  const all = on.y.at(exact.simultaneousMargin);
  // Two letterings need a line's room between them.
  const apart = Math.max(0, 30 - (one - all)) / 2;
  return [
    { y: one + apart, text: "limit for one" },
    { y: all - apart, text: "limit for all" },
  ].map(({ y, text }) => ({
    x: on.frame.right + 6,
    y: y + 4,
    text,
    anchor: "start" as const,
    size: lettering.small,
    colour: palette.caution,
  }));
}

/** The median ratio of size to expected size among effects that don't stand out. */
function slopeOfInert(places: readonly Place[]): number {
  const ratios = places.filter(({ stands }) => !stands).map(({ size, expected }) => size / expected);
  return ratios.length === 0 ? 0 : median(ratios);
}

function referenceLine(slope: number, right: number, top: number): readonly Plot.Markish[] {
  const reach = slope > 0 ? Math.min(right, top / slope) : right;
  return [
    Plot.line(
      [
        { x: 0, y: 0 },
        { x: reach, y: slope * reach },
      ],
      { x: "x", y: "y", stroke: palette.ink, strokeWidth: 1.2, className: "part-reference" },
    ),
  ];
}

function placeMarks(places: readonly Place[], on: Framed): readonly Plot.Markish[] {
  const named = places.filter(({ stands }) => stands).slice(-mostNamed);
  return [
    Plot.dot(places, {
      x: "expected",
      y: "size",
      r: 4.4,
      fill: (place: Place) => (place.stands ? palette.accent : palette.paper),
      stroke: palette.accent,
      strokeWidth: 1.4,
      className: "part-effects",
    }),
    ...named.map((place) => {
      const left = on.x.at(place.expected) > on.frame.left + 150;
      return Plot.text([place], {
        x: "expected",
        y: "size",
        dx: left ? -10 : 10,
        textAnchor: left ? "end" : "start",
        text: "label",
        fontSize: lettering.usual,
        fill: palette.ink,
        stroke: palette.paper,
        strokeWidth: 3.5,
        className: "part-effect-names",
      });
    }),
  ];
}
