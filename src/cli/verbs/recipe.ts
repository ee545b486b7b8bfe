import { fitAsPlanned } from "../../finding/index.ts";
import {
  fitMixed,
  jointRecipe,
  recipeMethods,
  observe,
  type Fit,
  type JointRecipe,
  type ModelKind,
} from "../../model/index.ts";
import { whatNext, type WhatNext } from "../../review/index.ts";
import { openTrial } from "../../store/index.ts";
import type { Trial } from "../../trial/index.ts";
import { alignedTable, wrapped } from "../aligned-table.ts";
import { RefusedError, UsageError } from "../error.ts";
import { asksForMixed, randomColumns, smallSampleOption } from "../mixed-fit.ts";
import { experimentsRoot } from "../experiments-root.ts";
import { choiceOption } from "../option-values.ts";
import { limitsTyped, recipeOptions, searchTyped } from "../recipe-options.ts";
import type { OptionValues, Verb } from "../verb.ts";

const models: readonly ModelKind[] = ["main", "interactions", "surface", "power-law"];

export const recipeVerb: Verb = {
  name: "recipe",
  summary: "find the fastest setting that keeps limits on several responses",
  help: [
    'trycut recipe TRIAL [--limit "Ra 0.8 µm"]... [--for mean|share|next] [--next] [--json]',
    "",
    "Fits each response that has a limit, and searches all quantities at once, on the machine's increments and within what was cut, for",
    "the most removal that keeps every limit. Says each bound and its margin, what stops a faster setting, and the proof runs.",
    "",
    '  --limit "Ra 0.8 µm"  a limit, once a response; without any, those that the trial states',
    "  --for                of whom a limit must hold: the mean, a share of all parts (default), or each of the next parts",
    "  --share 0.95         that share          --parts 1   how many next parts",
    "  --assurance 0.95     of each bound, one-sided",
    "  --model              main effects (default), interactions, surface, or power-law (on logarithms)",
    "  --push               removal (default where the trial states what it needs), time, or the product of quantities: feed,speed",
    "  --random NAME,…      what varies by chance: block, whole plot (set-ups), run, or a factor such as day; parts then come each on fresh levels. Left out,",
    "                       the set-ups of a factor that is hard to change count as such.   --small-sample kenward-roger",
    '  --hold JSON          settings that stand still, such as \'{"edge":"used"}\'',
    "  --next               also which passes would narrow it most, what they may gain, and what stopping now costs",
  ].join("\n"),
  options: {
    ...recipeOptions,
    model: { type: "string" },
    random: { type: "string" },
    "small-sample": { type: "string" },
    next: { type: "boolean" },
  },
  words: [1, 1],
  run: async ({ words: [name], options, json }, terminal) => {
    const trial = await openTrial(name, { root: experimentsRoot(terminal) });
    const limits = limitsTyped(trial, options);
    if (Object.keys(limits).length === 0)
      throw new UsageError('--limit is needed, since the trial states none: such as --limit "Ra 0.8 µm".');
    const found = Object.keys(limits).map((response) => fitted(trial, response, options));
    const fits = found.map(({ fit }) => fit);
    const asked = { limits, ...searchTyped(options) };
    const recipe = jointRecipe(trial, fits, asked);
    const next = options["next"] === true ? whatNext(trial, fits, asked) : null;
    if (json) terminal.out(JSON.stringify({ ...recipe, ...(next === null ? {} : { next }) }));
    else
      terminal.out(
        recipeLines(recipe, { next, notes: [...new Set(found.map(({ note }) => note))] }, terminal.width),
      );
    return 0;
  },
};

interface Fitted {
  readonly fit: Fit;
  /** How set-ups that runs share were taken account of; empty where none were. */
  readonly note: string;
}

function fitted(trial: Trial, response: string, options: OptionValues): Fitted {
  const model = choiceOption(options, "model", models) ?? "main";
  if (observe(trial, response).rows.length === 0)
    throw new RefusedError(`${response} has no readings in use yet: record some, then ask for a recipe.`);
  if (!asksForMixed(options)) {
    const { fit, wholePlots } = fitAsPlanned(trial, { response, model });
    return { fit, note: wholePlots };
  }
  const random = randomColumns(options);
  const smallSample = smallSampleOption(options);
  const fit = fitMixed(trial, {
    response,
    model,
    ...(random.length === 0 ? {} : { random }),
    ...(smallSample === undefined ? {} : { smallSample }),
  });
  return { fit, note: fit.variances.map(({ sentence }) => sentence).join(" ") };
}

function recipeLines(
  recipe: JointRecipe,
  { next, notes }: { readonly next: WhatNext | null; readonly notes: readonly string[] },
  width: number,
): string {
  const table = alignedTable(
    recipe.table.columns,
    recipe.table.rows.map((row) => row.map((cell) => String(cell ?? ""))),
  );
  const proof = recipe.proof.map(({ response, plan, reason }) =>
    plan === null
      ? `${response}: ${reason}`
      : plan.outcome === "none"
        ? `${response}: ${plan.reason}`
        : `${response}: ${plan.ruleText} ${plan.chancesText}`,
  );
  return [
    wrapped(recipe.text, width),
    table,
    ...(proof.length === 0
      ? []
      : [["Proof runs:", ...proof.map((line) => wrapped(line, width, { indent: "  " }))].join("\n")]),
    ...notes.filter((note) => note !== "").map((note) => wrapped(note, width)),
    ...(recipe.outcome === "none" && next === null
      ? [
          "Ask again with --next for the passes that would tell most, or hold the limit for the mean (--for mean).",
        ]
      : []),
    ...(recipe.notes.length === 0 ? [] : [wrapped(`Note: ${recipe.notes.join("; ")}.`, width)]),
    ...(next === null
      ? []
      : [
          wrapped(next.text, width),
          alignedTable(
            next.table.columns,
            next.table.rows.map((row) => row.map(String)),
          ),
        ]),
    [
      "How it was found:",
      ...recipeMethods(recipe).map((line) => wrapped(line, width, { indent: "  " })),
    ].join("\n"),
  ].join("\n\n");
}
