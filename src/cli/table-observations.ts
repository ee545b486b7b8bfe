import { observeTable, type Observations, type RandomColumns } from "../model/index.ts";
import type { DataTable } from "../store/index.ts";
import { UsageError } from "./error.ts";
import { namesOption, requiredOption, textOption } from "./option-values.ts";
import type { OptionValues } from "./verb.ts";

/** The runs of a table as --response, --factors, --categories and --block say; `needed` false where a model may do without factors. */
export function tableObservations(
  table: DataTable,
  options: OptionValues,
  asked: {
    readonly log: boolean;
    readonly factors?: readonly string[];
    readonly random?: readonly RandomColumns[];
    readonly needed?: boolean;
  },
): Observations {
  const { log, factors = namesOption(options, "factors") ?? [], random = [], needed = true } = asked;
  const response = requiredOption(options, "response");
  if (factors.length === 0 && needed && random.length === 0)
    throw new UsageError("--factors is needed: the columns that explain the response.");
  return observeTable(
    {
      columns: table.columns.map(({ name, unit, texts, numbers }) => ({
        name,
        unit,
        values: numbers ?? texts,
      })),
    },
    {
      response,
      factors,
      log,
      block: textOption(options, "block"),
      categories: namesOption(options, "categories") ?? [],
      random,
    },
  );
}
