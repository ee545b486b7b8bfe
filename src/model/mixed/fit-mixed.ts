import { levelsIn, mixedInput } from "./mixed-input.ts";
import type { Trial } from "../../trial/index.ts";
import { designColumns } from "../design-columns.ts";
import { designOf } from "../design.ts";
import { mixedInference, reml } from "../../numerics/index.ts";
import type { Observations } from "../observations.ts";
import { fittedBasis } from "../solved-fit.ts";
import type { MixedFit } from "./mixed-fit.ts";
import type { MixedOptions } from "./mixed-options.ts";
import { refusal } from "./refusals.ts";
import { toldMixed } from "./told-mixed.ts";

/**
 * Fits a model with random sources of scatter to a trial's readings or to observations: runs within days, parts, edges or set-ups, whole plots of a layout with
 * factors that are hard to change, readings within runs.
 *
 * Use it wherever rows share something that varies by chance: plain least squares would take what differs between whole plots as if every run had shown it
 * afresh. Fixed terms are as in `fitLinear` (or `fitPowerLaw`, by `model: "power-law"`); fixed blocks are fitted unless they are a random source.
 *
 * Returns what every fit has, each interval and test on degrees of freedom of its own (Satterthwaite, or Kenward and Roger 1997), and `variances`: of each
 * source the variance and its share, with intervals by profile likelihood; zero is an answer. `plainClaims` says where plain least squares would claim too much.
 * Refused, with the reason: a source with one level, one that the fixed terms span, sources that always change together, no scatter, more terms than rows.
 *
 * Accuracy: variances to about 10 digits; in balanced layouts they equal the mean-square solution where that is positive, and F and degrees of freedom those
 * of the analysis of variance by strata. In 10,000 drawn split plots each, of 8 to 32 runs, 95 % intervals held in 94 to 96 %, but for these: whole-plot effects 98.8 %
 * with 4 whole plots, and 97.4 and 97.9 % where whole plots add a tenth or nothing to the scatter of runs (on the safe side); effects within whole plots 93.9 % where
 * they add nothing; the share of whole plots 96.1 % with 4 of them, 96.7 % where they add a tenth. Means at a setting 96.9 to 99.5 %, a next run in a set-up of its own
 * 94.2 to 96.8 %, with 4 whole plots or where they add little. Of 2 runs in each of 2 set-ups on 3, 4 and 8 days: factors of set-ups 99.2, 98.1 and 96.0 %; means, next runs
 * and differences of two settings 94.8 to 95.8 %, but means 96.7 % where days add nothing. Shares of days and set-ups, on 3 and 4 days in 2,000 trials each, 99.2 to 99.5 %, but the standard
 * deviation of runs 92.3 and 94.0 %. The fit's notes tell these.
 *
 * Tried in 3,000 drawn trials each, and not taken, for whole-plot effects that hold too often. Kenward and Roger: the same in balanced layouts (it mends effects within whole
 * plots: 93.4 to 94.7 %). A variance that may be negative: whole-plot effects 94.5 to 96.3 %, but means at a setting down to 93.0 %, effects within down to 91.9 %, and with
 * unequal whole plots no answer in one trial of ten. Pooled degrees of freedom at zero: 94.7 to 96.9 %, but 93.5 % with 4 whole plots of 4 that do scatter.
 * Sources: Patterson and Thompson 1971, Biometrika 58; Harville 1977, JASA 72; Kenward and Roger 1997, Biometrics 53.
 *
 * Example: two parts read 1, 3 and 5, 7: the variance from part to part is 7, within a part 2.
 */
export function fitMixed(source: Trial | Observations, options: MixedOptions = {}): MixedFit {
  const input = mixedInput(source, options);
  const { observations, response, blocks, sources, terms, powerLaw } = input;
  const asked = designOf(observations.factors, terms, {
    tell: options.coded === true ? "coded" : "natural",
    logarithms: powerLaw,
    blocks,
  });
  const { design, change } = fittedBasis(asked);
  const columns = designColumns(design, observations.rows, blocks);
  const levels = sources.map(levelsIn);
  const found = reml(columns, response, levels);
  if (found.kind === "refused") throw refusal(found, observations, sources);
  const mixed = mixedInference(found, options.smallSample ?? "satterthwaite");
  return toldMixed({
    ...input,
    options,
    design,
    change,
    columns,
    levels,
    found,
    mixed,
    trial: "spec" in source ? source : null,
  });
}
