import { listed } from "../../units/index.ts";
import type { Setting } from "../../trial/index.ts";
import { combined, pointAt, valuesAt } from "../at-point.ts";
import { inseparableSets } from "../inseparable.ts";
import { judged } from "../judged.ts";
import { outside, settingsCut } from "../predict.ts";
import type { Solved } from "../solved.ts";
import { settingWithUnit } from "../words.ts";
import { untoldChange, type ChangeBetween, type FittedChange } from "./fitted-change.ts";

/** The change of a linear model's mean; factors that neither place names stand in their middle, categories evenly weighted. */
export function changeOf(solved: Solved, noInterval: string): ChangeBetween {
  return (from, to) => {
    const lower = pointAt(solved, from, { rest: "average" });
    const upper = pointAt(solved, to, { rest: "average" });
    const step = upper.map((value, k) => value - lower[k]);
    const changed = Object.keys(to).filter((name) => String(from[name]) !== String(to[name]));
    const inModel = new Set(
      solved.design.sources.flatMap(({ role, term }) => (role === "term" ? Object.keys(term) : [])),
    );
    const cut = settingsCut(solved).filter(({ name }) => Object.hasOwn(to, name));
    const about = {
      stands: standing(solved, changed, to),
      absent: changed.filter((name) => !inModel.has(name)),
      extrapolation: [...new Set([...outside(cut, from), ...outside(cut, to)])],
    };
    if (changed.every((name) => !inModel.has(name)))
      return untoldChange(
        `${listed(changed)} ${changed.length === 1 ? "is" : "are"} not in the model`,
        about,
      );
    const { estimate, cross, estimable } = combined(solved, step);
    if (!estimable) {
      const set = inseparableSets(solved).find(({ labels }) =>
        labels.some((label) => changed.includes(label)),
      );
      return untoldChange(set?.text ?? "it hangs on terms that these runs can't tell apart", about);
    }
    const how = judged(solved, step, { cross });
    return how === null
      ? { ...about, estimate, standardError: null, df: null, reason: noInterval }
      : { ...about, estimate, standardError: how.standardError, df: how.df, reason: "" };
  };
}

/** The factors that were not named and stand in a product with one that changes. */
function standing(
  solved: Solved,
  changed: readonly string[],
  named: Readonly<Record<string, Setting>>,
): FittedChange["stands"] {
  const { design } = solved;
  const beside = new Set(
    design.sources.flatMap(({ term, columns }) => {
      const names = Object.keys(term);
      if (!names.some((name) => changed.includes(name)) || columns.length === 0) return [];
      return names.filter((name) => !Object.hasOwn(named, name));
    }),
  );
  const middle = valuesAt(solved, {}, { rest: "average" });
  return design.factors.flatMap((factor, index) => {
    if (!beside.has(factor.name)) return [];
    if (factor.kind === "category")
      return [{ factor: factor.name, text: `${factor.name} evenly over ${listed(factor.levels)}` }];
    const place = design.elementaries.findIndex((one) => one.factor === index);
    const value = design.elementaries[place].logarithm ? Math.exp(middle[place]) : middle[place];
    return [{ factor: factor.name, text: settingWithUnit(factor, value) }];
  });
}
