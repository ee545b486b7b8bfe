import {
  effectFigure,
  halfNormalFigure,
  influenceFigure,
  interactionFigure,
  normalQuantileFigure,
  orderFigure,
  residualFigure,
  responseFigure,
  scatterShareFigure,
  slicesFigure,
  varianceShareFigure,
} from "../figure/index.ts";
import { isMixedFit, type Fit } from "../model/index.ts";
import type { Trial } from "../trial/index.ts";
import { drawn } from "./plan-figures.ts";

/** What moves the response, and how the response follows each factor. */
export function mainFigures(trial: Trial, fit: Fit): readonly string[] {
  const { repeats, response } = fit;
  return drawn([
    [() => effectFigure(fit, { trial }), `What each factor does to ${response.name} from low to high.`],
    ...(fit.unreplicated === null
      ? []
      : [[() => halfNormalFigure(fit, { trial }), "Which effects stand out from the rest."] as const]),
    ...fit.factors.map(
      (factor) =>
        [
          () => responseFigure(fit, { trial, factor: factor.name }),
          `${response.name} against ${factor.name}.`,
        ] as const,
    ),
    ...(fit.factors.length > 1
      ? [
          [
            () => interactionFigure(fit, { trial }),
            "Whether what one factor does depends on another.",
          ] as const,
        ]
      : []),
    ...(fit.surface === null
      ? []
      : [[() => slicesFigure(fit, { trial }), "The surface, sliced at three settings."] as const]),
    ...(isMixedFit(fit)
      ? [[() => varianceShareFigure(fit, { trial }), "What the scatter is made of."] as const]
      : []),
    ...(repeats === null
      ? []
      : [
          [
            () => scatterShareFigure(repeats, { trial, response }),
            "Where the scatter of one reading comes from.",
          ] as const,
        ]),
  ]);
}

/** Whether the model can be believed: drift, what is left over, and its distribution. */
export function checkFigures(trial: Trial, fit: Fit): readonly string[] {
  return drawn(
    [
      [
        () => orderFigure(fit, { trial }),
        "In cutting order: what drifts here is wear, warm-up or the gauge.",
      ],
      [
        () => residualFigure(fit, { trial, against: "minutes" }),
        "What each run left unexplained, along minutes of cut: wear shows as a slope.",
      ],
      [() => residualFigure(fit, { trial }), "What each run left unexplained, against the fitted value."],
      [() => normalQuantileFigure(fit, { trial }), "What was left, against a normal distribution."],
      // Each run is left out in turn: with many, no single one decides, and the page would wait.
      ...(fit.rows.length > 120
        ? []
        : [[() => influenceFigure(fit, { trial }), "What the effects would be without each run."] as const]),
    ],
    { from: 500 },
  );
}
