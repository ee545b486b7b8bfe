import { basename, dirname, resolve } from "node:path";
import { cautions } from "../../cutting/index.ts";
import {
  checkLimits,
  costSoFar,
  layOutWithProgress,
  layoutJson,
  planCost,
  type Layout,
  type LayoutProgress,
} from "../../layout/index.ts";
import { createTrial } from "../../store/index.ts";
import { settingText, type TrialSpec } from "../../trial/index.ts";
import { alignedTable, wrapped } from "../aligned-table.ts";
import { textOption } from "../option-values.ts";
import { runsTableHelp, runsTableOptions, typedSpec } from "../runs-table.ts";
import type { Terminal, Verb } from "../verb.ts";

export const layOutVerb: Verb = {
  name: "lay-out",
  summary: "lay out the runs of a trial from its description",
  help: [
    "trycut lay-out SPEC.json|RUNS.csv [--runs TABLE.csv] [--write DIR] [--json]",
    "",
    "Lays out the runs that SPEC.json asks for (the form of trial.json; only `factors` and `layout` are needed) and puts them",
    "into cutting order. A plan that passes a stated limit of machine, cutter, stock, edges or minutes is refused.",
    "A search that takes long says how far it has come; Ctrl-C stops it with the best layout so far.",
    "",
    "  --write DIR   make the trial folder DIR with trial.json and plan.csv; DIR must not exist yet",
    ...runsTableHelp,
  ].join("\n"),
  options: { write: { type: "string" }, ...runsTableOptions },
  words: [1, 1],
  run: async ({ words: [file], options, json }, terminal) => {
    const { raw, spec } = await typedSpec(file, options, terminal);
    const layout = await layOutWithProgress(spec, {
      signal: terminal.signal,
      onProgress: sayProgress(terminal),
    });
    checkLimits(spec, layout.runs);
    const target = textOption(options, "write");
    let written: string | null = null;
    if (target !== undefined) {
      const folder = resolve(terminal.folder, target);
      await createTrial(dirname(folder), basename(folder), raw, layout.runs);
      written = folder;
    }
    if (json)
      terminal.out(
        JSON.stringify({
          ...layoutJson(layout),
          cost: planCost(spec, layout.runs),
          ...(written ? { written } : {}),
        }),
      );
    else terminal.out(planText(spec, layout, written, terminal.width));
    return 0;
  },
};

/** Between two lines about a search, and before the first. */
const QUIET_MS = 2000;

/** Says on the error stream how far a long search has come; one that ends soon says nothing. */
function sayProgress(terminal: Terminal): (progress: LayoutProgress) => void {
  let last = terminal.now().getTime();
  return ({ text, startsDone, starts }) => {
    const now = terminal.now().getTime();
    if (now - last < QUIET_MS || startsDone === starts) return;
    last = now;
    terminal.error(`${text}. Ctrl-C stops with the best so far.`);
  };
}

function planText(spec: TrialSpec, layout: Layout, written: string | null, width: number): string {
  const inPlots = layout.runs.some(({ wholePlot }) => wholePlot !== undefined);
  const cost = costSoFar(spec, layout.runs);
  const runs = alignedTable(
    [
      "run",
      ...(inPlots ? ["set-up"] : []),
      "block",
      "why",
      ...spec.factors.map(({ name }) => name),
      ...cost.headings,
    ],
    layout.runs.map(({ run, block, role, settings, wholePlot }, place) => [
      String(run),
      ...(inPlots ? [String(wholePlot)] : []),
      String(block),
      role,
      ...spec.factors.map((factor) => settingText(factor, settings[factor.name], spec.display)),
      ...(cost.rows[place] ?? []),
    ]),
  );
  const said = [...layout.orderRules, cost.sentence, ...layout.notes].map((line) => wrapped(line, width));
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
