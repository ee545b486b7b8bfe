import type { GrowingFacts } from "../finding/index.ts";
import type { HowAsked } from "../layout/index.ts";
import type { Settings } from "../trial/index.ts";
import { RefusedError, UsageError } from "./error.ts";
import { choiceOption, namesOption, numberOption, probabilityOption, textOption } from "./option-values.ts";
import { parsedJson } from "./read-file.ts";
import { settingsFromJson } from "./settings-from-json.ts";
import { termsFromJson } from "./terms-from-json.ts";
import type { OptionValues } from "./verb.ts";

/** The options of every way, as the command line reads them. */
export const growOptions = {
  by: { type: "string" },
  write: { type: "boolean" },
  choices: { type: "boolean" },
  block: { type: "string" },
  tie: { type: "string" },
  order: { type: "string" },
  seed: { type: "string" },
  sigma: { type: "string" },
  response: { type: "string" },
  confidence: { type: "string" },
  terms: { type: "string" },
  factors: { type: "string" },
  axial: { type: "string" },
  centre: { type: "string" },
  range: { type: "string" },
  effect: { type: "string" },
  at: { type: "string" },
  recipe: { type: "boolean" },
  runs: { type: "string" },
  "half-width": { type: "string" },
  between: { type: "string" },
  rule: { type: "string" },
  limit: { type: "string" },
  side: { type: "string" },
  log: { type: "boolean" },
  "good-mean": { type: "string" },
  "bad-mean": { type: "string" },
  "good-share": { type: "string" },
  "bad-share": { type: "string" },
  "fail-good": { type: "string" },
  "pass-bad": { type: "string" },
  "at-most": { type: "string" },
} as const;

const common = ["by", "write", "block", "tie", "order", "seed", "sigma", "response", "confidence", "terms"];
/** Which options each way takes beside the common ones. */
const own: Readonly<Record<HowAsked["by"], readonly string[]>> = {
  fold: ["factors", "choices"],
  axial: ["axial", "centre", "range"],
  replicate: ["effect", "at", "recipe", "runs", "half-width"],
  separate: ["between"],
  proof: [
    "at",
    "recipe",
    "rule",
    "limit",
    "side",
    "log",
    "good-mean",
    "bad-mean",
    "good-share",
    "bad-share",
    "fail-good",
    "pass-bad",
    "at-most",
  ],
};

/** How a trial is to be grown, as it was typed; what was not typed is left to the library's defaults and to what the readings give. */
export function howTyped(options: OptionValues, facts: GrowingFacts): HowAsked {
  const by = choiceOption(options, "by", ["fold", "axial", "replicate", "separate", "proof"]);
  if (by === undefined)
    throw new UsageError(
      "--by is needed: fold, axial, replicate, separate or proof; --help says what each does.",
    );
  const strange = Object.keys(options).find(
    (name) => options[name] !== undefined && name in growOptions && ![...common, ...own[by]].includes(name),
  );
  if (strange !== undefined) {
    const takes = own[by].map((name) => `--${name}`).join(", ");
    throw new UsageError(`--${strange} is not an option of --by ${by}, which takes ${takes}.`);
  }
  const shared = given({
    block: choiceOption<"new" | "last">(options, "block", ["new", "last"]),
    tie: numberOption(options, "tie"),
    order: choiceOption<"random" | "drift-proof" | "as-listed">(options, "order", [
      "random",
      "drift-proof",
      "as-listed",
    ]),
    seed: numberOption(options, "seed"),
    sigma: numberOption(options, "sigma") ?? facts.sigma ?? undefined,
    response: textOption(options, "response"),
    confidence: probabilityOption(options, "confidence"),
    terms: termsTyped(options),
  });
  switch (by) {
    case "fold":
      return { by, ...shared, ...given({ factors: foldTyped(options) }) };
    case "axial":
      return {
        by,
        ...shared,
        ...given({
          axial: axialTyped(options),
          centrePoints: numberOption(options, "centre"),
          range: choiceOption<"corners" | "limits">(options, "range", ["corners", "limits"]),
        }),
      };
    case "replicate":
      return {
        by,
        ...shared,
        question: questionTyped(options, facts),
        ...given({ runs: numberOption(options, "runs"), halfWidth: numberOption(options, "half-width") }),
      };
    case "separate":
      return { by, ...shared, between: betweenTyped(options) };
    case "proof":
      return proofTyped(options, facts, shared);
  }
}

/** Without what was not typed, so that the library's defaults hold. */
function given<Fields extends Readonly<Record<string, unknown>>>(
  fields: Fields,
): { readonly [Name in keyof Fields]?: Exclude<Fields[Name], undefined> } {
  // What is left has no undefined in it.
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as {
    readonly [Name in keyof Fields]?: Exclude<Fields[Name], undefined>;
  };
}

function termsTyped(options: OptionValues) {
  const text = textOption(options, "terms");
  return text === undefined
    ? undefined
    : termsFromJson(parsedJson(text, "--terms"), "--terms").map((term) => ({ ...term }));
}

function foldTyped(options: OptionValues): "all" | string[] | undefined {
  const names = namesOption(options, "factors");
  return names === undefined ? undefined : names.join() === "all" ? "all" : [...names];
}

function axialTyped(options: OptionValues): "rotatable" | "face" | "block-orthogonal" | number | undefined {
  const text = textOption(options, "axial");
  if (text === undefined || !/^[\d.,]+$/.test(text))
    return choiceOption<"rotatable" | "face" | "block-orthogonal">(options, "axial", [
      "rotatable",
      "face",
      "block-orthogonal",
    ]);
  return numberOption(options, "axial");
}

function questionTyped(
  options: OptionValues,
  facts: GrowingFacts,
): { effect: string } | { at: Record<string, string | number> } {
  const effect = textOption(options, "effect");
  if (effect !== undefined) return { effect };
  return { at: placeTyped(options, facts, 'an effect, as --effect "feed × speed"; ') };
}

function placeTyped(
  options: OptionValues,
  facts: GrowingFacts,
  else_: string,
): Record<string, string | number> {
  const text = textOption(options, "at");
  if (text !== undefined) return { ...onlyOne(settingsFromJson(parsedJson(text, "--at"), "--at")) };
  if (options["recipe"] === true) {
    if (facts.recipe === null)
      throw new RefusedError(`--recipe: ${facts.noRecipe}. Give the setting with --at.`);
    return { ...facts.recipe.at };
  }
  throw new UsageError(
    `--by ${textOption(options, "by") ?? ""} needs ${else_}a setting, as --at '{"feed":0.16,"edge":"used"}'; or --recipe for the trial's own recipe.`,
  );
}

function onlyOne(settings: readonly Settings[]): Settings {
  const [first, ...more] = settings;
  if (first !== undefined && more.length === 0) return first;
  throw new RefusedError(
    `--at: got ${settings.length} settings; expected one, such as {"feed":0.15,"edge":"used"}.`,
  );
}

function betweenTyped(options: OptionValues): Extract<HowAsked, { by: "separate" }>["between"] {
  const text = textOption(options, "between");
  if (text === undefined)
    throw new UsageError(
      '--between is needed: two explanations, as --between "depth = feed × speed" or a JSON list.',
    );
  if (!text.trimStart().startsWith("[")) return text;
  // Whatever was typed is checked by the library, which names what it expected.
  return parsedJson(text, "--between") as Extract<HowAsked, { by: "separate" }>["between"];
}

function proofTyped(options: OptionValues, facts: GrowingFacts, shared: object): HowAsked {
  const rule = choiceOption(options, "rule", ["parts", "mean", "share"]);
  const { recipe } = facts;
  const ofRecipe =
    options["recipe"] === true && recipe !== null
      ? {
          limit: recipe.limit,
          side: recipe.side,
          log: recipe.log,
          ...(rule === "mean" ? { goodMean: recipe.goodMean, sigma: recipe.sigma } : {}),
        }
      : {};
  return {
    by: "proof",
    ...shared,
    at: placeTyped(options, facts, ""),
    ...ofRecipe,
    ...given({
      rule,
      limit: numberOption(options, "limit"),
      side: choiceOption(options, "side", ["at-most", "at-least"]),
      log: options["log"] === true ? true : undefined,
      sigma: numberOption(options, "sigma"),
      goodMean: numberOption(options, "good-mean"),
      badMean: numberOption(options, "bad-mean"),
      goodShare: numberOption(options, "good-share"),
      badShare: numberOption(options, "bad-share"),
      failGood: numberOption(options, "fail-good"),
      passBad: numberOption(options, "pass-bad"),
      atMost: numberOption(options, "at-most"),
    }),
  };
}
