import { z } from "zod";
import { commonShape, wholeNumber } from "../common-options.ts";
import { defineKind } from "../define-kind.ts";
import { fractionOf, type FractionRequest } from "../two-level/fraction-design.ts";
import { partOfRun, splittingMasks } from "../split-plot/splitting-masks.ts";
import { dealtToWholePlots } from "../split-plot/deal-whole-plots.ts";
import type { Factor } from "../../trial/index.ts";
import { rankOf } from "../two-level/aliases.ts";
import type { RegularDesign } from "../two-level/regular-design.ts";
import { twoLevelsOf } from "../two-level/two-levels.ts";
import { layOutRegular } from "../two-level/lay-out-regular.ts";

const schema = z.strictObject({
  kind: z.literal("fraction"),
  ...commonShape,
  /** A power of 2; or say what it must keep apart (`resolution`), or how it is made (`generators`). */
  runs: wholeNumber(2, 1024).optional(),
  /** 3: main effects clear of one another; 4: also of products of two factors; 5: those too of one another. */
  resolution: wholeNumber(3, 15).optional(),
  /** Such as "D = ABC" or "coolant = feed × speed", one a factor that is generated. */
  generators: z.array(z.string()).min(1).max(30).optional(),
  /** Which fraction of the family, from 1: every generator with a plus sign, then with other signs. */
  part: wholeNumber(1, 2 ** 30).default(1),
  /** Cuts the fraction again with signs reversed: of all factors, or of the one named. */
  foldOver: z.string().default("none"),
  /** Aliases are listed for effects of up to so many factors. */
  aliasOrder: wholeNumber(1, 6).default(2),
  /** With factors that are hard to change: in how many whole plots (set-ups) the runs are cut. Fewer than their settings are had by a fraction of the hard factors. */
  wholePlots: wholeNumber(1, 1024).optional(),
});

/** How often a whole plot can be halved: as often as bits are left beside those of the hard factors. */
function halvingsOf(factors: readonly Factor[], design: RegularDesign): number {
  const hard = design.masks.filter((_, place) => factors[place]?.change === "hard");
  return hard.length === 0 ? 0 : design.bits - rankOf(hard);
}

export type FractionOptions = z.output<typeof schema>;

export const fraction = defineKind({
  kind: "fraction",
  summary:
    "Some of the corners, chosen so that what matters can still be told apart: many factors in few runs.",
  schema,
  layOut: (factors, options) => {
    for (const factor of factors) twoLevelsOf("fraction", factor);
    const request: FractionRequest = options;
    const design = fractionOf(factors, request);
    const standard = layOutRegular("fraction", factors, design, options);
    const whole = options.replicates % options.blocks === 0;
    const halvings = whole ? halvingsOf(factors, design) : 0;
    return dealtToWholePlots("fraction", factors, standard, {
      wholePlots: options.wholePlots,
      halvings,
      partsOf: (count) => {
        const masks = splittingMasks(factors, design, count);
        return (run) => partOfRun(masks, (run.standard - 1) % 2 ** design.bits);
      },
    });
  },
});
