import type { ChosenFrom } from "../model/index.ts";
import { UsageError } from "./error.ts";
import { textOption } from "./option-values.ts";
import type { OptionValues } from "./verb.ts";

/** The mark of `--chosen`: how the data chose the model that is asked for. */
export function chosenTyped(options: OptionValues): { readonly chosenFrom?: ChosenFrom } {
  const how = textOption(options, "chosen")?.trim();
  if (how === undefined) return {};
  if (how === "") throw new UsageError('--chosen is empty: say how, such as "the best of five models".');
  return { chosenFrom: { how } };
}
