import { formatNumber, listed } from "../../units/index.ts";
import { percent, pText, rounded } from "../words.ts";
import type { Transform, TransformChoice } from "./transform.ts";
import type { GrowthOfScatter } from "./growth-of-scatter.ts";

type Named = Pick<TransformChoice, "name" | "lambda">;

const logarithm: Named = { name: "logarithm", lambda: 0 };
const none: Named = { name: "none", lambda: 1 };
const others: readonly Named[] = [
  { name: "square root", lambda: 0.5 },
  { name: "reciprocal", lambda: -1 },
];

/** Readings over so many times the smallest are of different sizes: their scatter can hardly be the same in units. */
const wideSpan = 5;

/** True where there are signs that scatter grows with size. */
function grows({ slope, p }: GrowthOfScatter): boolean {
  return slope !== null && p !== null && slope > 0 && p < 0.1;
}

/** The choices with a meaning, the physical one first: logarithms where scatter grows with size, or readings go over a wide range of sizes. */
export function choiceNames(growth: GrowthOfScatter): readonly Named[] {
  const logarithmFirst = grows(growth) || growth.span >= wideSpan;
  return [...(logarithmFirst ? [logarithm, none] : [none, logarithm]), ...others];
}

const meanings: Readonly<Record<TransformChoice["name"], string>> = {
  logarithm: "the logarithm (effects are ratios)",
  none: "the reading as it is",
  "square root": "the square root",
  reciprocal: "the reciprocal (a rate)",
};

/** The choice with what the readings say of it, then the power they would like best. */
export function transformSentence(
  found: Pick<Transform, "response" | "lambda" | "allowingForTerms" | "confidence" | "choices" | "offered">,
  growth: GrowthOfScatter,
): string {
  const { response, lambda, confidence, choices, offered } = found;
  const { low, high } = found.allowingForTerms;
  const half = (high - low) / 2;
  const first = choices[0];
  const { name } = response;
  const why = grows(growth)
    ? `Scatter grows with ${name} (about as its power ${formatNumber(growth.slope!, { digits: 2 })}), so logarithms come first.`
    : growth.span >= wideSpan
      ? `${name} runs over a factor of ${formatNumber(growth.span, { digits: 2 })}, so logarithms come first.`
      : `No growth of scatter with ${name} was seen, so the reading as it is comes first.`;
  const object = choices.filter(({ objectedTo }) => objectedTo);
  const said =
    offered === null
      ? "The readings object to every one of the usual transformations: look at the residuals for runs that are far off, or for a missing term."
      : offered === first
        ? `The readings do not object to ${meanings[first.name]} (p ${pText(first.p)}).`
        : `The readings object to ${meanings[first.name]} (p ${pText(first.p)}), not to ${meanings[offered.name]} (p ${pText(offered.p)}).`;
  const against =
    offered !== null && object.length > 0 && offered === first
      ? ` They object to ${listed(object.map(({ name }) => meanings[name]))}.`
      : "";
  const edge = (end: number): string =>
    Math.abs(end) >= 5 ? (end < 0 ? "below −5" : "above 5") : rounded(end, half);
  return `${why} ${said}${against} The power they would like best is ${rounded(lambda, half)} (${percent(confidence)} ${edge(low)} to ${edge(high)}).`;
}
