import * as Plot from "@observablehq/plot";
import { quantityAxis } from "./axis.ts";
import type { Figure } from "./figure.ts";
import { confidenceText } from "./fitted-rows.ts";
import { framed, outline } from "./frame.ts";
import { roundedText } from "./number-text.ts";
import { settled, type FigureOptions } from "./options.ts";
import { lettering, palette } from "./palette.ts";
import { sheet } from "./sheet.ts";
import type { Transform, TransformChoice } from "../model/index.ts";

/** How far below its top the likelihood is drawn, in multiples of what the interval allows. */
const depth = 3;

/**
 * The profile likelihood of the power of a response, with the interval where it crosses the line, and the choices that have a meaning in the shop. Use it to see whether readings object to
 * logarithms, or to none. One row a choice in the table.
 * Example: `transformFigure(findTransform(trial))`.
 */
export function transformFigure(transform: Transform, options: FigureOptions = {}): Figure {
  const { document } = settled(options);
  const { profile, drop, lambda, choices, confidence, response } = transform;
  const { low, high } = transform.allowingForTerms;
  const floor = -depth * drop;
  const points = profile.filter(({ logLikelihood }) => logLikelihood >= floor);
  const inside = choices.filter(
    ({ lambda: power }) => power >= profile[0].lambda && power <= profile.at(-1)!.lambda,
  );
  const x = quantityAxis({
    name: `power of ${response.name}`,
    unit: "",
    values: [...points.map((point) => point.lambda), ...inside.map((choice) => choice.lambda)],
    margin: 0.06,
  });
  const y = quantityAxis({
    name: "log-likelihood below its top",
    unit: "",
    values: [floor, 0],
    count: 5,
    margin: 0.08,
  });
  const height = 360;
  const on = framed(x, y, { height, top: 80 });
  const title = options.title ?? `The scale for ${response.name}`;
  const said = confidenceText(confidence);
  return sheet(document, {
    kind: "transform",
    title,
    note: `best ${roundedText(lambda, 2)}, ${said} ${roundedText(low, 2)} to ${roundedText(high, 2)}`,
    description: `${title}. ${transform.text}`,
    table: {
      columns: ["scale", "power", "twice the log-likelihood lost", "p", "readings object"],
      rows: choices.map(({ name, lambda: power, deviance, p, objectedTo }) => [
        name,
        power,
        deviance,
        p,
        objectedTo ? "yes" : "no",
      ]),
    },
    height,
    drawings: [
      {
        ...on.options,
        marks: [
          Plot.rectX([{ from: Math.max(low, x.domain[0]), to: Math.min(high, x.domain[1]) }], {
            x1: "from",
            x2: "to",
            fill: palette.hair,
            className: "part-interval",
          }),
          ...on.under,
          Plot.ruleY([-drop], { stroke: palette.ink, strokeDasharray: "6 4", className: "part-drop" }),
          Plot.ruleX(inside, {
            x: "lambda",
            stroke: (choice: TransformChoice) => (choice.objectedTo ? palette.rule : palette.accent),
            strokeWidth: 1.4,
            className: "part-choices",
          }),
          Plot.line(points, {
            x: "lambda",
            y: "logLikelihood",
            stroke: palette.ink,
            strokeWidth: 2.2,
            className: "part-profile",
          }),
          outline(),
        ],
      },
    ],
    letters: [
      ...on.letters,
      ...inside.map((choice, index) => ({
        x: on.x.at(choice.lambda),
        // Neighbours stand on two lines, so that their names do not run into each other.
        y:
          [...inside].sort((a, b) => a.lambda - b.lambda).indexOf(choice) % 2 === 0
            ? on.frame.top - 19
            : on.frame.top - 6,
        text: choice.name === "none" ? "as it is" : choice.name,
        anchor: "middle" as const,
        size: lettering.small,
        weight: index === 0 ? ("bold" as const) : ("normal" as const),
        colour: choice.objectedTo ? palette.quiet : palette.accent,
      })),
    ],
  });
}
