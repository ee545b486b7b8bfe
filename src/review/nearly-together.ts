import { listed } from "../units/index.ts";
import type { Remark } from "./remark.ts";
import type { Check } from "./context.ts";
import { intervalInflation } from "./inflation.ts";
import { mainEffectColumns } from "./main-effect-columns.ts";

/**
 * At three times the width the trial would need nine times the passes to know the effect as well, so the runs hardly tell the factors
 * apart. An inflation that is infinite is a tie and has its own remark.
 */
const widerByMuch = 3;

/** Factors that moved almost together: their effects can be told apart, but only with intervals several times as wide. A fact of the plan: no reading can raise it by chance. */
export const nearlyTogether: Check = ({ moved, runs }) => {
  if (runs.length < 3) return [];
  const blocks = mainEffectColumns(moved, runs);
  const wide = blocks.flatMap(({ factor, columns }) => {
    const others = blocks.filter((block) => block.factor !== factor).flatMap((block) => block.columns);
    const inflation = Math.max(...columns.map((column) => intervalInflation(column, others)));
    return Number.isFinite(inflation) && inflation >= widerByMuch ? [{ factor, inflation }] : [];
  });
  if (wide.length < 2) return [];
  const worst = Math.max(...wide.map(({ inflation }) => inflation));
  const remark: Remark = {
    kind: "nearly-together",
    weight: "caution",
    title: `${listed(wide.map(({ factor }) => factor.name))} moved almost together: their effects are hard to tell apart.`,
    evidence: `Because they rose and fell with one another, the interval of an effect is up to ${worst.toFixed(1)} times as wide as in a trial of as many runs where they move independently.`,
    mend: "Cut a few more passes in which one of them is high while the other is low.",
    runs: [],
    addRuns: [],
  };
  return [remark];
};
