import { chiSquareTail } from "../../numerics/index.ts";
import { formatNumber } from "../../units/index.ts";
import { pText } from "../words.ts";
import type { OverallTest } from "./comparison.ts";
import { doubledMidranks } from "./rank-sum.ts";

/**
 * Whether any of several samples lies higher, by ranks, corrected for ties; p by χ², which is rough below five runs a level.
 * Source: Kruskal and Wallis 1952, Journal of the American Statistical Association 47, 583–621. Null where every reading is the same.
 */
export function kruskalWallis(groups: readonly (readonly number[])[]): OverallTest | null {
  const all = groups.flat();
  const total = all.length;
  const { doubled } = doubledMidranks(all);
  const centre = (total + 1) / 2;
  let between = 0;
  let from = 0;
  for (const group of groups) {
    let sum = 0;
    for (let k = 0; k < group.length; k++) sum += doubled[from + k] / 2;
    between += group.length * (sum / group.length - centre) ** 2;
    from += group.length;
  }
  const spread = doubled.reduce((sum, rank) => sum + (rank / 2 - centre) ** 2, 0);
  if (!(spread > 0)) return null;
  const statistic = ((total - 1) * between) / spread;
  const df = groups.length - 1;
  const p = chiSquareTail(statistic, df);
  return {
    statistic,
    df,
    dfScatter: null,
    p,
    text: `All levels together by ranks (Kruskal and Wallis): H ${formatNumber(statistic, { digits: 3 })} on ${df}, p ${pText(p)}.`,
  };
}
