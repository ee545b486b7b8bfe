import {
  contrast,
  isInterval,
  type Contrast,
  type CurveFit,
  type Fit,
  type FloorFit,
} from "../model/index.ts";
import type { Settings } from "../trial/index.ts";
import { RefusedError, UsageError } from "./error.ts";
import { textOption } from "./option-values.ts";
import { parsedJson } from "./read-file.ts";
import { settingsFromJson } from "./settings-from-json.ts";
import type { OptionValues } from "./verb.ts";

/** How a verb's settings are typed. */
interface TypedSettings {
  readonly read: (typed: string, option: string) => Settings;
  /** Of a setting, and of one to go to. */
  readonly examples: readonly [string, string];
}

/** Settings typed as JSON, as `fit` takes them. */
const asJson: TypedSettings = { read: oneFromJson, examples: [`'{"feed":0.2}'`, `'{"feed":0.12}'`] };

/** What `--from` and `--to` ask of a fit; null where they were not given. */
export function contrastAsked(
  fit: Fit | FloorFit | CurveFit,
  options: OptionValues,
  { read, examples }: TypedSettings = asJson,
): Contrast | null {
  const [from, to] = (["from", "to"] as const).map((name) => {
    const typed = textOption(options, name);
    return typed === undefined ? undefined : read(typed, `--${name}`);
  });
  if (from === undefined && to === undefined) return null;
  if (from === undefined || to === undefined)
    throw new UsageError(
      `--${from === undefined ? "to" : "from"} goes with --${from === undefined ? "from" : "to"}: two settings, such as --from ${examples[0]} --to ${examples[1]}.`,
    );
  return contrast(fit, from, to);
}

function oneFromJson(typed: string, option: string): Settings {
  const settings = settingsFromJson(parsedJson(typed, option), option);
  if (settings.length > 1)
    throw new RefusedError(`${option}: got ${settings.length} settings; expected one, such as {"feed":0.2}.`);
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
