import { judge, judgementJson, layOut, type Judgement } from "../../layout/index.ts";
import type { Term } from "../../model/index.ts";
import { parseTrialSpec } from "../../trial/index.ts";
import { formatNumber } from "../../units/index.ts";
import { alignedTable, wrapped } from "../aligned-table.ts";
import { UsageError } from "../error.ts";
import { numberOption, probabilityOption, textOption } from "../option-values.ts";
import { parsedJson, readJson } from "../read-file.ts";
import { termsFromJson } from "../terms-from-json.ts";
import type { Verb } from "../verb.ts";

export const judgeVerb: Verb = {
  name: "judge",
  summary: "say what a layout can tell, before a chip is cut",
  help: [
    "trycut judge SPEC.json --sigma S [--terms main|interactions|surface|JSON] [--effect E] [--confidence 0.95] [--json]",
    "",
    "Lays out the runs of SPEC.json and says, for each term of the model, how wide its interval will be, with what chance",
    "an effect is seen, and what it can be mistaken for.",
    "",
    "  --sigma S       your guess of the standard deviation from run to run, in the response's unit",
    "  --terms         which model will be fitted: main effects (default), interactions, surface, or terms as JSON",
    "  --effect E      the change from low to high that is worth seeing",
    "  --confidence    of the intervals, 0.95 unless given",
  ].join("\n"),
  options: {
    terms: { type: "string" },
    sigma: { type: "string" },
    effect: { type: "string" },
    confidence: { type: "string" },
  },
  words: [1, 1],
  run: async ({ words: [file], options, json }, terminal) => {
    const sigma = numberOption(options, "sigma");
    if (sigma === undefined) {
      throw new UsageError(
        "--sigma is needed: your guess of the standard deviation from run to run, such as --sigma 0.05.",
      );
    }
    const spec = parseTrialSpec(await readJson(file, terminal), file);
    const layout = layOut(spec);
    const judgement = judge(layout.runs, spec.factors, {
      ...modelChoice(textOption(options, "terms") ?? "main"),
      sigma,
      effect: numberOption(options, "effect") ?? null,
      confidence: probabilityOption(options, "confidence") ?? 0.95,
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

function judgementText(judgement: Judgement, width: number): string {
  const number = (value: number | null) =>
    value === null ? "not known" : formatNumber(value, { digits: 3 });
  const rows = judgement.terms.map((term) => [
    term.label,
    number(term.halfWidth),
    term.power === null ? "" : term.power.toFixed(2),
    term.worstCorrelation.toFixed(2),
    term.correlationWithOrder.toFixed(2),
  ]);
  return [
    ...judgement.sentences.map((line) => wrapped(line, width)),
    "",
    alignedTable(
      ["effect", "± half-width", "chance to see it", "moves with others", "moves with order"],
      rows,
    ),
    "",
    wrapped(
      `${judgement.runs} runs, ${judgement.df} degrees of freedom for error (${judgement.dfPureError} of them pure). Efficiency D ${number(judgement.efficiency.D)}, I ${number(judgement.efficiency.I)}, A ${number(judgement.efficiency.A)}, ${judgement.efficiencyReference}.`,
      width,
    ),
  ].join("\n");
}
