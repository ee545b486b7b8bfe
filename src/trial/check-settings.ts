import { dimensionOf, readQuantity, unitNames } from "../units/index.ts";
import { whyNotASetting } from "./check-factors.ts";
import { asGiven, type Problem } from "./error.ts";
import type { Factor } from "./factor.ts";
import { nearestName } from "./nearest-name.ts";
import type { TrialSpec } from "./trial.ts";

/** What is wrong with what is held and with today's settings. */
export function settingProblems(spec: TrialSpec): readonly Problem[] {
  return [...heldProblems(spec), ...todayProblems(spec)];
}

function heldProblems({ held, factors }: TrialSpec): readonly Problem[] {
  return Object.entries(held).flatMap(([name, text]): readonly Problem[] => {
    const place = { path: `held.${name}`, given: asGiven(text) };
    if (factors.some((factor) => factor.name === name)) {
      return [
        {
          ...place,
          expected: "what stays still",
          mend: `${name} is a factor, and varies: remove one of the two.`,
        },
      ];
    }
    const slip = unitSlip(text);
    return slip === null
      ? []
      : [{ ...place, expected: "a quantity with a unit that Trycut knows, or words", mend: slip }];
  });
}

/** Held things may be words ("flood, 6 %"), but "0.1 mmm" is a quantity with a slip that would silently count as words. */
function unitSlip(text: string): string | null {
  if (/^[+-]?[\d.,]+$/.test(text.trim())) {
    return `Write its unit, such as "${text.trim()} mm"; for a count, what is counted, such as "${text.trim()} passes".`;
  }
  const word = /^[+-]?[\d.,]+\s*(\S+)$/.exec(text.trim())?.[1];
  if (word === undefined) return null;
  const answer = readQuantity(text);
  if (answer.kind === "value") return null;
  if (answer.kind === "question") return answer.question;
  const near = word.length > 1 ? nearestName(word, unitNames) : null;
  return near === null ? null : `Did you mean ${near}?`;
}

function todayProblems({ today, factors }: TrialSpec): readonly Problem[] {
  return Object.entries(today ?? {}).flatMap(([name, setting]): readonly Problem[] => {
    const place = { path: `today.${name}`, given: asGiven(setting) };
    const factor = factors.find((candidate) => candidate.name === name);
    if (factor === undefined) {
      const names = factors.map((candidate) => candidate.name);
      const near = nearestName(name, names);
      const mend = near === null ? "What is no factor belongs under held." : `Did you mean "${near}"?`;
      return [{ ...place, expected: `the name of a factor: ${names.join(", ")}`, mend }];
    }
    return settingProblem(factor, setting).map((problem) => ({ ...place, ...problem }));
  });
}

function settingProblem(
  factor: Factor,
  setting: number | string,
): readonly Pick<Problem, "expected" | "mend">[] {
  if (factor.kind === "category" || typeof setting === "number") {
    const expected = whyNotASetting(factor, setting);
    return expected === null ? [] : [{ expected, mend: "Write one of these, or leave it out." }];
  }
  const expected = `a ${dimensionOf(factor.unit)} such as "${factor.low} ${factor.unit}"`;
  const answer = readQuantity(setting, { dimension: dimensionOf(factor.unit) });
  if (answer.kind === "value") return [];
  return [{ expected, mend: answer.kind === "question" ? answer.question : answer.message }];
}
