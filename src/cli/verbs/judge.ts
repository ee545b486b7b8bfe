import { judge, judgementJson, layOut, minutesInCut, statedVarianceRatio } from "../../layout/index.ts";
import type { Term } from "../../model/index.ts";
import { UsageError } from "../error.ts";
import { judgementText } from "../judgement-text.ts";
import { numberOption, probabilityOption, textOption } from "../option-values.ts";
import { runsTableHelp, runsTableOptions, typedSpec } from "../runs-table.ts";
import { parsedJson } from "../read-file.ts";
import { termsFromJson } from "../terms-from-json.ts";
import type { Verb } from "../verb.ts";

export const judgeVerb: Verb = {
  name: "judge",
  summary: "say what a layout can tell, before a chip is cut",
  help: [
    "trycut judge SPEC.json|RUNS.csv --sigma S [--terms main|interactions|surface|JSON] [--effect E] [--confidence 0.95]",
    "                   [--variance-ratio R] [--runs TABLE.csv] [--json]",
    "",
    "Lays out the runs of SPEC.json and says, for each term of the model, how wide its interval will be, with what chance",
    "an effect is seen, and what it can be mistaken for.",
    "",
    "  --sigma S           your guess of the standard deviation from run to run, in the response's unit",
    "  --terms             which model will be fitted: main effects (default), interactions, surface, or terms as JSON",
    "  --effect E          the change from low to high that is worth seeing",
    "  --confidence        of the intervals, 0.95 unless given",
    "  --variance-ratio R  where a factor is hard to change: the variance between set-ups over that between runs, 1",
    "                      unless given",
    ...runsTableHelp,
  ].join("\n"),
  options: {
    terms: { type: "string" },
    sigma: { type: "string" },
    effect: { type: "string" },
    confidence: { type: "string" },
    "variance-ratio": { type: "string" },
    ...runsTableOptions,
  },
  words: [1, 1],
  run: async ({ words: [file], options, json }, terminal) => {
    const sigma = numberOption(options, "sigma");
    if (sigma === undefined) {
      throw new UsageError(
        "--sigma is needed: your guess of the standard deviation from run to run, such as --sigma 0.05.",
      );
    }
    const { spec } = await typedSpec(file, options, terminal);
    const layout = layOut(spec);
    const minutes = minutesInCut(spec, layout.runs);
    const judgement = judge(layout.runs, spec.factors, {
      ...modelChoice(textOption(options, "terms") ?? "main"),
      sigma,
      effect: numberOption(options, "effect") ?? null,
      confidence: probabilityOption(options, "confidence") ?? 0.95,
      varianceRatio: numberOption(options, "variance-ratio") ?? statedVarianceRatio(spec),
      minutes: minutes.kind === "known" ? minutes.minutes : null,
      unit: spec.responses[0]?.unit ?? "",
    });
    if (json) terminal.out(JSON.stringify(judgementJson(judgement)));
    else terminal.out(judgementText(judgement, terminal.width));
    return 0;
  },
};

function modelChoice(
  text: string,
): { model: "main" | "interactions" | "surface" } | { terms: readonly Term[] } {
  if (text === "main" || text === "interactions" || text === "surface") return { model: text };
  if (text.trimStart().startsWith("["))
    return { terms: termsFromJson(parsedJson(text, "--terms"), "--terms") };
  throw new UsageError(
    `--terms ${text}: expected main, interactions, surface, or a JSON list such as [{"feed":1}].`,
  );
}
