import { autocorrelation, fQuantile, studentisedRangeQuantile, variance } from "../../src/numerics/index.ts";
import {
  compareLevels,
  findTransform,
  isInterval,
  observeTable,
  unequalScatter,
  type Comparison as LevelComparison,
} from "../../src/model/index.ts";
import { published, type PublishedGroup } from "./published-group.ts";
import { workedExample } from "./worked-example.ts";

const values = (name: string, column: string) =>
  workedExample(name).columns.find((one) => one.name === column)!.values;
const numbers = (name: string, column: string) => values(name, column).map(Number);

/** The values of a column by the levels of another, in the order of the file. */
function groupsOf(name: string, group: string, column: string): readonly (readonly number[])[] {
  const levels = values(name, group);
  return [...new Set(levels)].map((level) => numbers(name, column).filter((_, i) => levels[i] === level));
}

function compared(name: string, factor: string, response: string): LevelComparison {
  return compareLevels(
    observeTable(workedExample(name), { response, factors: [factor], categories: [factor] }),
  );
}

function ends(comparison: LevelComparison, from: string, to: string): readonly [number, number] {
  const straight = comparison.pairs.find((pair) => pair.from === from && pair.to === to);
  const pair = straight ?? comparison.pairs.find((one) => one.from === to && one.to === from)!;
  if (!isInterval(pair.value)) throw new Error(pair.value.reason);
  const { low, high } = pair.value;
  return straight === undefined ? [-high, -low] : [low, high];
}

const etch = published("etch-rate-4-levels, every pair (Montgomery, chapter 3)", (compare) => {
  const comparison = compared("etch-rate-4-levels", "power", "rate");
  const printed = ["551.2", "587.4", "625.4", "707.0"];
  comparison.levels.forEach(({ level, mean }, i) => compare(`mean at ${level}`, printed[i], mean.estimate));
  compare("q", "4.05", studentisedRangeQuantile(0.95, 4, 16));
  const pair = comparison.pairs[0];
  // The source works with q rounded to 4.05: that much of the library's own standard error is what it prints.
  compare("least difference with q 4.05", "33.09", (4.05 * pair.standardError!) / Math.SQRT2);
});

const fourGroups = published("four-groups, every pair (e-Handbook 7.4.7.1)", (compare) => {
  const comparison = compared("four-groups", "group", "response");
  const printed = [
    ["1", "2", "0.29", "4.47"],
    ["1", "3", "1.13", "5.31"],
    ["4", "1", "-2.25", "1.93"],
    ["3", "2", "-2.93", "1.25"],
    ["4", "2", "0.13", "4.31"],
    ["4", "3", "0.97", "5.15"],
  ] as const;
  for (const [from, to, low, high] of printed) {
    const found = ends(comparison, from, to);
    // Printed with q rounded to 4.05 and differences to two decimals.
    compare(`low of ${to} less ${from}`, low, found[0], { allowed: 0.01 });
    compare(`high of ${to} less ${from}`, high, found[1], { allowed: 0.01 });
  }
});

const gear = published(
  "gear-diameter-10-batches, equal scatter (e-Handbook 1.3.5.7, 1.3.5.10)",
  (compare) => {
    const scatter = unequalScatter(groupsOf("gear-diameter-10-batches", "batch", "diameter"))!;
    // Both from memory; 1.705910 as remembered differs in its last digits from 1.70592, which R gives, and is held to four.
    compare("by variances", "20.78587", scatter.byVariances!.statistic);
    compare("by medians", "1.7059", scatter.byMedians!.f);
  },
);

const ceramic = published("ceramic-strength-480, readings and batches (e-Handbook 1.4.2.10)", (compare) => {
  const strength = Float64Array.from(numbers("ceramic-strength-480", "strength"));
  compare("readings", "480", strength.length);
  compare("variance", "5570.86967", variance(strength));
  compare("range", "476.36", Math.max(...strength) - Math.min(...strength));
  const sorted = [...strength].sort((a, b) => a - b);
  // Hinges: medians of the lower and the upper half.
  compare("lower hinge", "595.974", (sorted[119] + sorted[120]) / 2);
  compare("upper hinge", "708.422", (sorted[359] + sorted[360]) / 2);
  compare("autocorrelation", "-0.22905", autocorrelation(strength));
  const [first, second] = groupsOf("ceramic-strength-480", "batch", "strength").map((own) =>
    variance(Float64Array.from(own)),
  );
  const ratio = first / second;
  compare("ratio of the batches' variances", "1.123", ratio);
  compare("low of the ratio", "0.8709874", ratio / fQuantile(0.975, 239, 239));
  compare("high of the ratio", "1.4480271", ratio * fQuantile(0.975, 239, 239));
});

const powers = published("textile and survival, power of the response (Box and Cox 1964)", (compare) => {
  const textile = findTransform(
    observeTable(workedExample("textile-3x3x3"), {
      response: "cycles",
      factors: ["length", "amplitude", "load"],
    }),
  );
  compare("textile: power", "-0.06", textile.lambda);
  compare("textile: low", "-0.18", textile.low);
  compare("textile: high", "0.06", textile.high);
  const survival = findTransform(
    observeTable(workedExample("survival-3x4"), {
      response: "survival",
      factors: ["poison", "treatment"],
      categories: ["poison"],
    }),
  );
  compare("survival: power", "-0.75", survival.lambda);
  // Read off a graph.
  compare("survival: low", "-1.13", survival.low, { allowed: 0.02 });
  compare("survival: high", "-0.37", survival.high, { allowed: 0.02 });
});

export const publishedComparisonGroups: readonly PublishedGroup[] = [etch, fourGroups, gear, ceramic, powers];
