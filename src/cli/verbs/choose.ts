import { basename, dirname, resolve } from "node:path";
import {
  chooseLayout,
  layOut,
  sigmaRangeFrom,
  stakes,
  type LayoutQuestion,
  type Stake,
} from "../../layout/index.ts";
import { createTrial } from "../../store/index.ts";
import { parseTrialSpec } from "../../trial/index.ts";
import { choiceText } from "../choice-text.ts";
import { RefusedError, UsageError } from "../error.ts";
import { choiceOption, numberOption, probabilityOption, textOption } from "../option-values.ts";
import { readJson } from "../read-file.ts";
import type { OptionValues, Verb } from "../verb.ts";

export const chooseVerb: Verb = {
  name: "choose",
  summary: "compare the layouts that fit a question and the passes at hand",
  help: [
    "trycut choose SPEC.json --stake STAKE --passes N [--sigma S | --sigma-from S --sigma-to S | --typical Y] [--effect E]",
    "               [--confidence 0.95] [--variance-ratio R] [--take ID] [--write DIR] [--json]",
    "",
    "Lays out and judges every layout that fits the factors of SPEC.json (its `layout` is not looked at) and the passes at hand,",
    "puts them side by side, and recommends one. Says so where the passes are too few, how many would do, and what can be",
    "asked instead.",
    "",
    "  --stake          which-matter       which factors matter?",
    "                   how-they-combine   does one factor change the effect of another?",
    "                   how-curved         where does the effect of a factor bend?",
    "                   best-setting       which setting is best?",
    "  --passes N       how many passes are at hand; left out, the passes of the budget in SPEC.json",
    "  --sigma S        your guess of the standard deviation from run to run, in the response's unit",
    "  --sigma-from S   with --sigma-to S: from where to where you guess it; the advice says whether that changes the plan",
    "  --typical Y      a usual reading, where nothing is known of σ: it is then taken as 5 to 20 % of Y (a rule of thumb)",
    "  --effect E       the smallest change from low to high worth knowing",
    "  --confidence     of the intervals, 0.95 unless given",
    "  --variance-ratio R  where a factor is hard to change: the variance between set-ups over that between runs, 1",
    "                   unless given",
    "  --take ID        which layout --write takes; left out, the recommended one",
    "  --write DIR      make the trial folder DIR with that layout; DIR must not exist yet",
  ].join("\n"),
  options: {
    stake: { type: "string" },
    passes: { type: "string" },
    sigma: { type: "string" },
    "sigma-from": { type: "string" },
    "sigma-to": { type: "string" },
    typical: { type: "string" },
    effect: { type: "string" },
    confidence: { type: "string" },
    "variance-ratio": { type: "string" },
    take: { type: "string" },
    write: { type: "string" },
  },
  words: [1, 1],
  run: async ({ words: [file], options, json }, terminal) => {
    const raw = await readJson(file, terminal);
    const spec = parseTrialSpec(
      isObject(raw) && !("layout" in raw) ? { ...raw, layout: { kind: "factorial" } } : raw,
      file,
    );
    const { factors } = spec;
    const passes = numberOption(options, "passes") ?? spec.budget?.passes;
    if (passes === undefined)
      throw new UsageError("--passes is needed: how many passes are at hand, such as --passes 12.");
    const choice = chooseLayout({
      factors,
      trial: spec,
      stake: stakeOf(options),
      passes,
      sigma: sigmaOf(options),
      effect: numberOption(options, "effect"),
      confidence: probabilityOption(options, "confidence"),
      varianceRatio: numberOption(options, "variance-ratio"),
      unit: spec.responses[0]?.unit ?? "",
    });
    const target = textOption(options, "write");
    const take = textOption(options, "take");
    if (take !== undefined && target === undefined)
      throw new UsageError("--take says what --write takes. Give --write DIR as well.");
    let written: string | null = null;
    if (target !== undefined) {
      const id = take ?? choice.recommended?.id;
      const taken = choice.candidates.find((candidate) => candidate.id === id);
      if (!taken) {
        throw new RefusedError(
          id === undefined
            ? `${choice.advice.join("\n")}\nNothing was written: no layout answers the question. Choose one with --take.`
            : `--take ${id}: expected one of ${choice.candidates.map((candidate) => candidate.id).join(", ")}. Nothing was written.`,
        );
      }
      const folder = resolve(terminal.folder, target);
      const plan = { ...(isObject(raw) ? raw : {}), layout: taken.layout };
      await createTrial(
        dirname(folder),
        basename(folder),
        plan,
        layOut({ ...spec, layout: taken.layout }).runs,
      );
      written = folder;
    }
    if (json) terminal.out(JSON.stringify({ ...choice, ...(written ? { written } : {}) }));
    else
      terminal.out(
        [choiceText(choice, terminal.width), ...(written ? ["", `Written: ${written}`] : [])].join("\n"),
      );
    return 0;
  },
};

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function stakeOf(options: OptionValues): Stake {
  // Object.keys of a record over the stakes gives the stakes and nothing else.
  const known = Object.keys(stakes) as Stake[];
  const stake = choiceOption(options, "stake", known);
  if (stake === undefined)
    throw new UsageError(
      `--stake is needed: what the trial is to answer. Expected one of ${known.join(", ")}.`,
    );
  return stake;
}

function sigmaOf(options: OptionValues): LayoutQuestion["sigma"] {
  const sigma = numberOption(options, "sigma");
  const low = numberOption(options, "sigma-from");
  const high = numberOption(options, "sigma-to");
  const typical = numberOption(options, "typical");
  const ways = [sigma, low ?? high, typical].filter((value) => value !== undefined);
  if (ways.length > 1)
    throw new UsageError("Give one of --sigma, --sigma-from with --sigma-to, and --typical.");
  if ((low === undefined) !== (high === undefined))
    throw new UsageError("--sigma-from and --sigma-to belong together: give both, or --sigma.");
  if (low !== undefined && high !== undefined) return { low, high };
  return typical === undefined ? sigma : sigmaRangeFrom(typical);
}
