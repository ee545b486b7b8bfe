import type { Candidate, LayoutChoice } from "../layout/index.ts";
import { differenceUnit, formatNumber } from "../units/index.ts";
import { alignedTable, wrapped } from "./aligned-table.ts";

/** A choice among layouts for people: the advice, the layouts side by side, and what each tells and doesn't. */
export function choiceText(choice: LayoutChoice, width: number): string {
  const { candidates, recommended, refused } = choice;
  const answering = candidates.filter(({ answers }) => answers !== "no");
  const others = candidates.filter(({ answers }) => answers === "no");
  return [
    ...choice.advice.map((line) => wrapped(line, width)),
    ...(answering.length > 0
      ? [
          "",
          table(choice, answering),
          ...legend(choice).map((line) => wrapped(line, width)),
          "",
          ...answering.flatMap((candidate) => detail(candidate, recommended?.id, width)),
        ]
      : []),
    ...(others.length > 0
      ? [
          wrapped(
            `These fit the passes but don't answer the question: ${others.map(({ title, runs }) => `${title} (${runs} runs)`).join("; ")}.`,
            width,
          ),
        ]
      : []),
    ...(refused.length > 0 ? ["", "Refused:"] : []),
    ...refused.map(({ title, reason }) => wrapped(`- ${title}: ${reason}`, width, { indent: "  " })),
  ].join("\n");
}

function table(choice: LayoutChoice, candidates: readonly Candidate[]): string {
  const { effect, unit } = choice;
  const known = choice.sigma.high !== null;
  const own = known && unit ? ` ${differenceUnit(unit)}` : known ? "" : " σ";
  const cell = (value: number | null, digits = 2) =>
    value === null ? "—" : formatNumber(Number(value.toPrecision(digits)));
  const asked = (candidate: Candidate) => {
    const { mainEffects, products, squares } = candidate.figures;
    return choice.stake === "how-they-combine"
      ? products
      : choice.stake === "how-curved"
        ? squares
        : mainEffects;
  };
  const columns: readonly (readonly [string, (candidate: Candidate) => string])[] = [
    ["layout", ({ id }) => id],
    ["runs", ({ runs }) => String(runs)],
    ["answers", ({ answers }) => (answers === "yes" ? "yes" : answers === "no" ? "no" : "in part")],
    [
      `known to ±${own}`,
      (candidate) =>
        choice.stake === "best-setting"
          ? cell(candidate.figures.prediction?.[known ? "halfWidth" : "halfWidthInSigma"] ?? null)
          : cell(asked(candidate)[known ? "halfWidth" : "halfWidthInSigma"]),
    ],
    [
      effect === null
        ? "chance for 2 σ"
        : `chance for ${formatNumber(effect)}${unit ? ` ${differenceUnit(unit)}` : ""}`,
      (candidate) => asked(candidate).chance?.toFixed(2) ?? "—",
    ],
    ["mix-up", ({ figures }) => (figures.worstLeaning < 0.005 ? "no" : figures.worstLeaning.toFixed(2))],
    ["bends told", ({ figures }) => figures.bend],
    ["left for scatter", ({ figures }) => String(figures.df)],
    ...costColumns(candidates, cell),
  ];
  return alignedTable(
    columns.map(([heading]) => heading),
    candidates.map((candidate) => columns.map(([, text]) => text(candidate))),
  );
}

/** What the columns hold, for those who did not make them. */
function legend({ stake, effect }: LayoutChoice): readonly string[] {
  const what = {
    "which-matter": "the effect of a factor",
    "how-they-combine": "how much one factor changes the effect of another",
    "how-curved": "a bend",
    "best-setting": "a predicted mean, on average over the region",
  }[stake];
  const chance = stake === "best-setting" ? "the effect of a factor" : what;
  return [
    `Known to: half the width of the interval of ${what}${stake === "best-setting" ? "" : ", the least known one"}. Chance: that ${stake === "how-they-combine" ? "such a change" : chance}${effect === null ? " of twice the scatter" : " of that size"} is seen. Mix-up: how much of a left-out product of two factors is read into what is told, 0 to 1. Bends told: of each factor, of all together, or not. Left for scatter: degrees of freedom for error.`,
  ];
}

/** Only costs that the trial states enough for. */
function costColumns(
  candidates: readonly Candidate[],
  cell: (value: number | null, digits?: number) => string,
): readonly (readonly [string, (candidate: Candidate) => string])[] {
  const any = (of: (candidate: Candidate) => number | null) => candidates.some((one) => (of(one) ?? 0) > 0);
  return [
    ...(any(({ cost }) => cost.minutes)
      ? [["minutes", ({ cost }: Candidate) => cell(cost.minutes, 3)] as const]
      : []),
    ...(any(({ cost }) => cost.edges) ? [["edges", ({ cost }: Candidate) => cell(cost.edges)] as const] : []),
    ...(any(({ cost }) => cost.stockMm)
      ? [["stock mm", ({ cost }: Candidate) => cell(cost.stockMm, 3)] as const]
      : []),
    ...(any(({ cost }) => cost.setUps)
      ? [["set-ups", ({ cost }: Candidate) => String(cost.setUps)] as const]
      : []),
  ];
}

function detail(candidate: Candidate, recommended: string | undefined, width: number): readonly string[] {
  const mark = candidate.id === recommended ? " (recommended)" : "";
  return [
    `${candidate.id}: ${candidate.title}, ${candidate.runs} runs${mark}`,
    ...candidate.tells.map((text) => wrapped(`  + ${text}`, width, { indent: "    " })),
    ...candidate.cannot.map((text) => wrapped(`  − ${text}`, width, { indent: "    " })),
    `    layout: ${JSON.stringify(candidate.layout)}`,
    "",
  ];
}
