import { isInterval, type Contrast, type FloorFit, type Uncertain } from "../model/index.ts";
import type { Remark } from "../review/index.ts";
import type { Settings } from "../trial/index.ts";
import { formatNumber, listed } from "../units/index.ts";
import { alignedTable, wrapped } from "./aligned-table.ts";
import { remarksText } from "./fit-text.ts";

/** A fit with a floor for a person: sentences first, what the runs can't say next, the numbers behind it last. */
export function floorText(
  fit: FloorFit,
  asked: {
    readonly asked: Contrast | null;
    readonly places: readonly Settings[];
    readonly remarks: readonly Remark[];
  },
  width: number,
): string {
  const bullet = (text: string) => wrapped(`- ${text}`, width, { indent: "  " });
  return [
    ...(asked.asked ? [wrapped(asked.asked.sentence, width), ""] : []),
    ...fit.sentences.map(bullet),
    ...(fit.observations.notes ?? []).map(bullet),
    ...asked.places.map((at) => bullet(fit.predict(at).text)),
    ...remarksText(asked.remarks, width),
    ...(fit.converged ? ["", ...numbers(fit, width)] : []),
  ].join("\n");
}

function numbers(fit: FloorFit, width: number): readonly string[] {
  const { response, observations, exponents, levels, without } = fit;
  const unit = response.unit === "" ? "" : ` [${response.unit}]`;
  const first = new Map(observations.factors.map(({ name, levels: [level] }) => [name, level]));
  const rows: readonly (readonly [string, Uncertain])[] = [
    [`floor of ${response.name}${unit}`, fit.floor],
    [`C${unit}`, fit.coefficient],
    ...exponents.map(({ factor, value }): [string, Uncertain] => [`exponent of ${factor}`, value]),
    ...levels.map(({ factor, level, ratio }): [string, Uncertain] => [
      `${factor} ${level} over ${first.get(factor)}`,
      ratio,
    ]),
    ...(without?.exponents ?? []).map(({ factor, value }): [string, Uncertain] => [
      `without a floor: exponent of ${factor}`,
      value,
    ]),
  ];
  return [
    `The numbers behind it: ${fit.law}`,
    alignedTable(
      ["", "estimate", `${Math.round(fit.confidence * 1000) / 10} % from`, "to"],
      rows.map(([name, value]) => [name, ...cells(value, { asRatio: value === fit.coefficient })]),
    ),
    "",
    wrapped(`${constantText(fit)} ${scatterText(fit)}`, width),
  ];
}

/** A coefficient is known by so many times and not by so much, so that its ends show three digits each. */
function cells(value: Uncertain, { asRatio }: { readonly asRatio: boolean }): readonly string[] {
  if (!isInterval(value))
    return [
      value.estimate === null ? "not known" : formatNumber(value.estimate, { digits: 4 }),
      "no bound",
      "no bound",
    ];
  const { estimate, low, high } = value;
  const shown = (end: number): string =>
    asRatio || !(high > low)
      ? formatNumber(end, { digits: asRatio ? 3 : 6 })
      : formatNumber(end, { uncertainty: (high - low) / 4 });
  return [shown(estimate), shown(low), shown(high)];
}

/** At which settings C stands, and that this is seldom where anything was cut. */
function constantText({ observations }: FloorFit): string {
  const { factors } = observations;
  const place = factors.map(({ name, kind, unit, levels }) =>
    kind === "quantity" ? `${name} 1${unit === "" ? "" : ` ${unit}`}` : `${name} ${levels[0]}`,
  );
  const beyond = factors
    .filter(({ kind, low, high }) => kind === "quantity" && (low > 1 || high < 1))
    .map(({ name }) => name);
  const far =
    beyond.length === 0
      ? ""
      : ` (outside what was cut of ${listed(beyond)}: C is for computing, and moves with the exponent)`;
  return `C is the height of the marks alone at ${listed(place)}${far}.`;
}

function scatterText({ residualSd, residualDf }: FloorFit): string {
  return residualSd === null
    ? "No scatter is left to judge by."
    : `Scatter about the law ${formatNumber(residualSd, { digits: 3 })} (of natural logarithms) on ${residualDf} degrees of freedom; intervals by profile likelihood (Bates and Watts 1988).`;
}
