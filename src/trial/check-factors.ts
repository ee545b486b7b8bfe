import { asGiven, type Problem } from "./error.ts";
import type { CategoryFactor, Factor, QuantityFactor } from "./factor.ts";
import { whyNotAHeader } from "./names.ts";
import type { TrialSpec } from "./trial.ts";

/** What is wrong with factors and responses that have the right shape: names, ranges, levels, increments. */
export function factorProblems(spec: Pick<TrialSpec, "factors" | "responses">): readonly Problem[] {
  const none: readonly Problem[] =
    spec.factors.length > 0
      ? []
      : [
          {
            path: "factors",
            given: "[]",
            expected: "at least one factor",
            mend: "Add what the trial varies, such as feed.",
          },
        ];
  return [
    ...none,
    ...nameProblems(spec),
    ...spec.factors.flatMap((factor, index) => {
      const path = `factors[${index}]`;
      return factor.kind === "quantity" ? quantityProblems(factor, path) : categoryProblems(factor, path);
    }),
    ...spec.responses.flatMap((response, index): readonly Problem[] =>
      response.aim === "target" && response.limit === undefined
        ? [
            {
              path: `responses[${index}].limit`,
              given: "nothing",
              expected: `the target of ${response.name} in ${response.unit}`,
              mend: 'With "aim": "target" the limit is the target.',
            },
          ]
        : [],
    ),
  ];
}

function nameProblems({ factors, responses }: Pick<TrialSpec, "factors" | "responses">): readonly Problem[] {
  const named = [
    ...factors.map(({ name }, index) => ({ name, path: `factors[${index}].name` })),
    ...responses.map(({ name }, index) => ({ name, path: `responses[${index}].name` })),
  ];
  return named.flatMap(({ name, path }, index) => {
    const bad = whyNotAHeader(name);
    if (bad !== null) return [{ path, given: asGiven(name), ...bad }];
    const first = named.slice(0, index).find((other) => sameName(other.name, name));
    if (first === undefined) return [];
    const mend = `${first.path} is ${asGiven(first.name)} already: rename one of them.`;
    return [{ path, given: asGiven(name), expected: "a name that no other factor or response has", mend }];
  });
}

/** Spreadsheets and file systems often forget about capitals. */
function sameName(a: string, b: string): boolean {
  return a.normalize("NFC").toLowerCase() === b.normalize("NFC").toLowerCase();
}

function quantityProblems(factor: QuantityFactor, path: string): readonly Problem[] {
  const { low, high, scale, levels, increment, unit } = factor;
  const problems: Problem[] = [];
  const add = (field: string, given: unknown, expected: string, mend: string): void => {
    problems.push({ path: `${path}.${field}`, given: asGiven(given), expected, mend });
  };
  if (!(low < high)) {
    const swap =
      low > high
        ? `Swap them: "low": ${high}, "high": ${low}.`
        : "A factor that stays still belongs under held.";
    add("low", low, `a number below high (${high} ${unit})`, swap);
    return problems;
  }
  if (scale === "log" && low <= 0)
    add("low", low, `more than 0 ${unit} on a log scale`, 'Raise it, or write "scale": "linear".');
  if (increment !== undefined && increment > high - low) {
    add(
      "increment",
      increment,
      `a step no wider than low to high (${plain(high - low)} ${unit})`,
      "Check its unit, or leave it out.",
    );
  }
  levels?.forEach((level, index) => {
    const field = `levels[${index}]`;
    if (level < low || level > high) {
      add(field, level, `a level from ${low} to ${high} ${unit}`, "Change the level, or widen low and high.");
    } else if (increment !== undefined && !onGrid(level, low, increment)) {
      const below = Math.floor(level / increment) * increment;
      const nearest = [below, below + increment].map(plain).join(" or ");
      add(
        field,
        level,
        `a level that the machine can set, in steps of ${increment} ${unit}`,
        `The nearest are ${nearest}.`,
      );
    }
  });
  if (levels !== undefined) {
    const rising = [...new Set(levels)].sort((a, b) => a - b);
    if (rising.length < 2) add("levels", levels, "two levels or more", "Add a level, or leave levels out.");
    else if (rising.some((level, index) => level !== levels[index]) || rising.length < levels.length) {
      add(
        "levels",
        levels,
        "rising levels, each once",
        `Write [${rising.join(", ")}]; replicates belong to the layout.`,
      );
    }
  }
  return problems;
}

/** Steps counted from zero, as a dial shows them, or from the low end. */
function onGrid(level: number, low: number, increment: number): boolean {
  return [level / increment, (level - low) / increment].some(
    (steps) => Math.abs(steps - Math.round(steps)) < 1e-6,
  );
}

/** Without the last digits that binary fractions leave behind. */
function plain(value: number): string {
  return String(Number(value.toPrecision(12)));
}

function categoryProblems({ levels }: CategoryFactor, path: string): readonly Problem[] {
  const problems: Problem[] = levels.flatMap((level, index): readonly Problem[] => {
    const place = { path: `${path}.levels[${index}]`, given: asGiven(level) };
    if (level.trim() === "" || level !== level.trim() || /[\p{Cc}\p{Zl}\p{Zp}]/u.test(level)) {
      return [
        {
          ...place,
          expected: "a level's name on one line without spaces around it",
          mend: 'Write it as "fresh".',
        },
      ];
    }
    const same = levels.slice(0, index).find((other) => sameName(other, level));
    return same === undefined
      ? []
      : [
          {
            ...place,
            expected: "each level once",
            mend: `${asGiven(same)} stands before it: rename or remove one.`,
          },
        ];
  });
  if (levels.length < 2) {
    problems.push({
      path: `${path}.levels`,
      given: asGiven(levels),
      expected: "two levels or more",
      mend: "Add the level to compare with; what stays still belongs under held.",
    });
  }
  return problems;
}

/** Whether a setting can stand for a factor: a finite number, or one of the levels. Returns what was expected, else null. */
export function whyNotASetting(factor: Factor, setting: unknown): string | null {
  if (factor.kind === "quantity") {
    return typeof setting === "number" && Number.isFinite(setting) ? null : `a number of ${factor.unit}`;
  }
  if (typeof setting === "string" && factor.levels.includes(setting)) return null;
  return `one of ${factor.levels.map((level) => `"${level}"`).join(", ")}`;
}
