import { isInterval, type Bootstrap, type ChoiceBootstrap, type Uncertain } from "../model/index.ts";
import { formatNumber } from "../units/index.ts";
import { alignedTable, wrapped } from "./aligned-table.ts";
import type { DrawnAnew } from "./drawn-anew.ts";

/** What was drawn anew, shuffled and left out, for a person: a heading each, the intervals first. Empty where nothing was asked. */
export function drawnText(drawn: DrawnAnew, width: number): readonly string[] {
  const bullet = (text: string): string => wrapped(`- ${text}`, width, { indent: "  " });
  const { bootstrap, choice, permutations, crossValidation, choiceValidation } = drawn;
  return [
    ...(choice === null
      ? []
      : [["With the model chosen anew in each draw:", ...choice.sentences.map(bullet)].join("\n")]),
    ...(bootstrap === null
      ? []
      : [
          [
            "By drawing anew, beside the intervals above:",
            bootstrapTable(bootstrap),
            ...bootstrap.figures.flatMap(({ label, corrected }) =>
              isInterval(corrected) ? [] : [bullet(`${label}: ${corrected.reason}.`)],
            ),
            ...bootstrap.notes.map(bullet),
          ].join("\n"),
        ]),
    ...(permutations.length === 0
      ? []
      : [
          ["By letting runs change places:", ...permutations.map(({ sentence }) => bullet(sentence))].join(
            "\n",
          ),
        ]),
    ...(crossValidation === null
      ? []
      : [["Runs left out of the fit:", bullet(crossValidation.sentence)].join("\n")]),
    ...(choiceValidation === null
      ? []
      : [["Runs left out of the choice:", bullet(choiceValidation.sentence)].join("\n")]),
  ];
}

function bootstrapTable({ figures, confidence }: Bootstrap): string {
  const percent = `${Math.round(confidence * 1000) / 10} %`;
  return alignedTable(
    ["what", "estimate", `${percent} drawn, from`, "to", "by Student's t, from", "to"],
    figures.map(({ label, as, estimate, corrected, byT }) => {
      const half = byT === null ? 0 : (byT.high - byT.low) / 2;
      const shown = (value: number | null): string =>
        value === null ? "not known" : formatNumber(value, half > 0 ? { uncertainty: half } : { digits: 4 });
      const drawn = isInterval(corrected) ? corrected : { low: null, high: null };
      return [
        as === "ratio" ? `${label}, times` : label,
        shown(estimate),
        shown(drawn.low),
        shown(drawn.high),
        shown(byT?.low ?? null),
        shown(byT?.high ?? null),
      ];
    }),
  );
}

/** The same for machines; only what was asked is there. */
export function drawnJson({ bootstrap, choice, permutations, crossValidation, choiceValidation }: DrawnAnew) {
  return {
    ...(bootstrap === null
      ? {}
      : {
          bootstrap: {
            ...bootstrap,
            figures: bootstrap.figures.map((figure) => ({
              ...figure,
              percentile: ends(figure.percentile),
              corrected: ends(figure.corrected),
            })),
          },
        }),
    ...(choice === null ? {} : { choice: choiceJson(choice) }),
    ...(permutations.length === 0 ? {} : { permutations }),
    ...(crossValidation === null ? {} : { crossValidation }),
    ...(choiceValidation === null
      ? {}
      : { choiceValidation: { ...choiceValidation, fit: undefined, how: choiceValidation.fit.chosenFrom } }),
  };
}

function choiceJson({ figures, fit, ...told }: ChoiceBootstrap) {
  return {
    ...told,
    // Told by the screening itself.
    within: undefined,
    chosenFrom: fit.chosenFrom,
    figures: figures.map(({ what, label, as, value, byFit }) => ({
      what,
      label,
      as,
      estimate: value.estimate,
      ...ends(value),
      byFit: byFit === null ? null : ends(byFit),
    })),
  };
}

function ends(value: Uncertain) {
  return isInterval(value)
    ? { low: value.low, high: value.high }
    : { low: null, high: null, reason: value.reason };
}
