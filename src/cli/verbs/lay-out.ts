import { basename, dirname, resolve } from "node:path";
import { cautions } from "../../cutting/index.ts";
import { checkLimits, layOut, layoutJson, type Layout } from "../../layout/index.ts";
import { createTrial } from "../../store/index.ts";
import { parseTrialSpec, settingText, type TrialSpec } from "../../trial/index.ts";
import { alignedTable, wrapped } from "../aligned-table.ts";
import { textOption } from "../option-values.ts";
import { readJson } from "../read-file.ts";
import type { Verb } from "../verb.ts";

export const layOutVerb: Verb = {
  name: "lay-out",
  summary: "lay out the runs of a trial from its description",
  help: [
    "trycut lay-out SPEC.json [--write DIR] [--json]",
    "",
    "Lays out the runs that SPEC.json asks for (the form of trial.json; only `factors` and `layout` are needed) and puts them",
    "into cutting order. A plan that passes a stated limit of machine, cutter, stock, edges or minutes is refused.",
    "",
    "  --write DIR   make the trial folder DIR with trial.json and plan.csv; DIR must not exist yet",
  ].join("\n"),
  options: { write: { type: "string" } },
  words: [1, 1],
  run: async ({ words: [file], options, json }, terminal) => {
    const raw = await readJson(file, terminal);
    const spec = parseTrialSpec(raw, file);
    const layout = layOut(spec);
    checkLimits(spec, layout.runs);
    const target = textOption(options, "write");
    let written: string | null = null;
    if (target !== undefined) {
      const folder = resolve(terminal.folder, target);
      await createTrial(dirname(folder), basename(folder), raw, layout.runs);
      written = folder;
    }
    if (json) terminal.out(JSON.stringify({ ...layoutJson(layout), ...(written ? { written } : {}) }));
    else terminal.out(planText(spec, layout, written, terminal.width));
    return 0;
  },
};

function planText(spec: TrialSpec, layout: Layout, written: string | null, width: number): string {
  const runs = alignedTable(
    ["run", "block", "why", ...spec.factors.map(({ name }) => name)],
    layout.runs.map(({ run, block, role, settings }) => [
      String(run),
      String(block),
      role,
      ...spec.factors.map((factor) => settingText(factor, settings[factor.name], spec.display)),
    ]),
  );
  const said = [...layout.orderRules, ...layout.notes].map((line) => wrapped(line, width));
  const fraction = layout.generators?.length
    ? [
        `Generators ${layout.generators.join(", ")}; resolution ${String(layout.resolution ?? "none")}.`,
        ...(layout.aliases ?? []),
      ]
    : [];
  return [
    `${spec.title}: ${layout.runs.length} runs, in cutting order.`,
    "",
    runs,
    "",
    ...said,
    ...fraction,
    "",
    "Before cutting:",
    ...cautions(spec).map((line) => wrapped(`- ${line}`, width, { indent: "  " })),
    ...(written ? ["", `Written: ${written}`] : []),
  ].join("\n");
}
