import type { Judgement, TermJudgement } from "../layout/index.ts";
import { formatNumber } from "../units/index.ts";
import { alignedTable, wrapped } from "./aligned-table.ts";

interface Column {
  readonly head: string;
  readonly cell: (term: TermJudgement) => string;
}

/** A judgement as people read it: what it says in words, then the numbers term by term. */
export function judgementText(judgement: Judgement, width: number): string {
  const columns = columnsOf(judgement);
  return [
    ...judgement.sentences.map((line) => wrapped(line, width)),
    "",
    alignedTable(
      columns.map(({ head }) => head),
      judgement.terms.map((term) => columns.map(({ cell }) => cell(term))),
    ),
    ...setLines(judgement),
    ...stratumLines(judgement),
    "",
    wrapped(efficiencyText(judgement), width),
  ].join("\n");
}

const number = (value: number | null) => (value === null ? "not known" : formatNumber(value, { digits: 3 }));

function columnsOf(judgement: Judgement): readonly Column[] {
  const split = judgement.strata.some(({ name }) => name === "whole plots");
  const timed = judgement.terms.some((term) => term.correlationWithMinutes !== null);
  const biased = judgement.terms.some((term) => term.worstBias !== null);
  return [
    { head: "effect", cell: (term) => term.label },
    { head: "± half-width", cell: (term) => number(term.halfWidth) },
    { head: "chance to see it", cell: (term) => (term.power === null ? "" : term.power.toFixed(2)) },
    ...(split
      ? [
          {
            head: "compared between",
            cell: ({ stratum }: TermJudgement) =>
              stratum === "whole plots" ? "set-ups" : stratum === "runs" ? "runs" : "set-ups, runs",
          },
        ]
      : []),
    {
      head: "degrees of freedom",
      cell: (term) => (term.df === null ? "none" : formatNumber(term.df, { digits: 3 })),
    },
    {
      head: "variance inflation",
      cell: (term) => (term.varianceInflation === null ? "" : term.varianceInflation.toFixed(2)),
    },
    { head: "moves with another", cell: (term) => term.worstCorrelation.toFixed(2) },
    { head: "moves with order", cell: (term) => term.correlationWithOrder.toFixed(2) },
    ...(timed
      ? [
          {
            head: "moves with minutes cut",
            cell: (term: TermJudgement) => (term.correlationWithMinutes ?? 0).toFixed(2),
          },
        ]
      : []),
    ...(biased
      ? [
          {
            head: "moved most by",
            cell: ({ worstBias }: TermJudgement) =>
              worstBias === null ? "" : `${worstBias.omitted} (${worstBias.share.toFixed(2)} of it)`,
          },
        ]
      : []),
  ];
}

function setLines({ sets }: Judgement): readonly string[] {
  if (sets.length === 0) return [];
  return [
    "",
    alignedTable(
      ["tested together", "coefficients", "degrees of freedom for error", "chance to see one"],
      sets.map(({ label, df, dfError, power }) => [
        label,
        String(df),
        dfError === null ? "none" : formatNumber(dfError, { digits: 3 }),
        power === null ? "" : power.toFixed(2),
      ]),
    ),
  ];
}

/** Where there is one stratum of error, the closing sentence says it all. */
function stratumLines({ strata }: Judgement): readonly string[] {
  if (strata.length < 2) return [];
  return [
    "",
    alignedTable(
      ["scatter between", "how many", "degrees of freedom", "taken by terms", "left for error", "of it pure"],
      strata.map(({ name, count, df, dfTerms, dfError, dfPureError }) => [
        name === "whole plots" ? "set-ups" : name,
        String(count),
        String(df),
        String(dfTerms),
        String(dfError),
        String(dfPureError),
      ]),
    ),
  ];
}

function efficiencyText({ runs, df, dfPureError, efficiency, efficiencyReference }: Judgement): string {
  const { D, I, A, G } = efficiency;
  return `${runs} runs, ${df} degrees of freedom for error (${dfPureError} of them pure). Efficiency D ${number(D)}, I ${number(I)}, A ${number(A)}, G ${number(G)}, ${efficiencyReference}.`;
}
