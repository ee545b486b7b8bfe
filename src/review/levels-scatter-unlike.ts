import { pText } from "../units/index.ts";
import { scatterBeside } from "../model/index.ts";
import type { Check } from "./context.ts";

/** One in twenty over all categories that are looked at. */
const familyLevel = 0.05;

/**
 * Levels of a category that scatter unlike: every interval of theirs rests on one scatter for all. By draws from what the model leaves over (see `scatterBeside`),
 * exact for normal scatter, times the number of categories looked at. On clean data: about 5 trials in 100 (of 10,000 trials each of 16 runs
 * on two edges 4.7 %, of 8 runs 6.3 %; tests/coverage): one plan is always judged by the same 399 draws, so that its own rate is off by about a point, while over all plans it is 5.
 */
export const levelsScatterUnlike: Check = ({ fit, moved }) => {
  if (!fit) return [];
  const looked = moved.flatMap(({ name, kind }) => {
    if (kind !== "category" || !fit.terms.some((term) => Object.hasOwn(term, name))) return [];
    const found = scatterBeside(fit, name, { draws: 399 });
    return found === null ? [] : [{ name, found }];
  });
  if (looked.length === 0) return [];
  const { name, found } = looked.reduce((least, one) => (one.found.p < least.found.p ? one : least));
  const p = Math.min(1, looked.length * found.p);
  if (p >= familyLevel) return [];
  return [
    {
      kind: "levels-scatter-unlike",
      weight: "caution",
      title: `${fit.response.name} scatters more with ${name} ${found.most} than with ${found.least}, and one scatter was taken for all.`,
      evidence: `${found.text}${looked.length > 1 ? ` Over the ${looked.length} categories looked at, p ${pText(p)}.` : ""}`,
      mend: `Take intervals with ${name} ${found.most} for too short and those with ${found.least} for too long; fit logarithms where scatter grows with size, and cut more runs with ${found.most}.`,
      runs: [],
      addRuns: [],
    },
  ];
};
