import { contrast, isInterval, type Contrast, type Fit, type FloorFit } from "../model/index.ts";
import type { Settings } from "../trial/index.ts";
import { RefusedError, UsageError } from "./error.ts";
import { textOption } from "./option-values.ts";
import { parsedJson } from "./read-file.ts";
import { settingsFromJson } from "./settings-from-json.ts";
import type { OptionValues } from "./verb.ts";

/** What `--from` and `--to` ask of a fit; null where they were not given. */
export function contrastAsked(fit: Fit | FloorFit, options: OptionValues): Contrast | null {
  const [from, to] = [oneSetting(options, "from"), oneSetting(options, "to")];
  if (from === undefined && to === undefined) return null;
  if (from === undefined || to === undefined)
    throw new UsageError(
      `--${from === undefined ? "to" : "from"} goes with --${from === undefined ? "from" : "to"}: two settings, such as --from '{"feed":0.2}' --to '{"feed":0.12}'.`,
    );
  return contrast(fit, from, to);
}

function oneSetting(options: OptionValues, name: "from" | "to"): Settings | undefined {
  const typed = textOption(options, name);
  if (typed === undefined) return undefined;
  const settings = settingsFromJson(parsedJson(typed, `--${name}`), `--${name}`);
  if (settings.length > 1)
    throw new RefusedError(`--${name}: got ${settings.length} settings; expected one, such as {"feed":0.2}.`);
  return settings[0];
}

/** For machines: the estimate and its ends on the response's own scale. */
export function contrastJson(asked: Contrast | null) {
  if (asked === null) return {};
  const { from, to, as, value, standardError, df, p, confidence, stands, extrapolation, sentence } = asked;
  const ends = isInterval(value)
    ? { estimate: value.estimate, low: value.low, high: value.high }
    : { estimate: value.estimate, low: null, high: null, reason: value.reason };
  return {
    contrast: { from, to, as, ...ends, standardError, df, p, confidence, stands, extrapolation, sentence },
  };
}
