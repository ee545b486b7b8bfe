import type { Factor, Setting } from "../trial/index.ts";
import { listed, parseQuantity, valueIn, type Dimension } from "../units/index.ts";
import type { Slips } from "./slips.ts";
import { splitNames } from "./typed-list.ts";

/** What an option is read with: where it stands in the form, what was typed, the factors as far as they are known. */
export interface TypedOption {
  readonly slips: Slips;
  readonly field: string;
  readonly text: string;
  readonly factors: readonly Factor[];
}

/** "feed = 0.12, edge = fresh". */
export function settingsOf(typed: TypedOption): Readonly<Record<string, Setting>> {
  const { slips, field, text, factors } = typed;
  const found: Record<string, Setting> = {};
  for (const part of splitNames(text)) {
    const [, name = "", value = ""] = /^(.+?)\s*[=:]\s*(.+)$/.exec(part) ?? [];
    const factor = factors.find((each) => each.name === name.trim());
    if (factor === undefined) {
      const names = listed(factors.map((each) => each.name));
      slips.wrong(
        field,
        `"${part}": expected a factor and its setting, such as feed = 0.12. Factors are ${names}.`,
      );
    } else if (factor.kind === "category") {
      found[factor.name] = value.trim();
    } else {
      const { unit } = factor;
      const setting = slips.try(field, () => valueIn<Dimension>(parseQuantity(value, { unit }), unit));
      if (setting !== undefined) found[factor.name] = setting;
    }
  }
  return found;
}
