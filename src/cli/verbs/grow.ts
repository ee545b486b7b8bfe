import { growingFacts } from "../../finding/index.ts";
import { foldChoices, grow, type Growth } from "../../layout/index.ts";
import { addGrowth, openTrial, type TrialFolder } from "../../store/index.ts";
import { settingText } from "../../trial/index.ts";
import { alignedTable, wrapped } from "../aligned-table.ts";
import { experimentsRoot } from "../experiments-root.ts";
import { growOptions, howTyped } from "../grow-options.ts";
import { choiceOption, textOption } from "../option-values.ts";
import type { Verb } from "../verb.ts";

export const growVerb: Verb = {
  name: "grow",
  summary: "add runs to a trial: fold, axial, replicate, separate, proof",
  help: [
    "trycut grow TRIAL --by fold|axial|replicate|separate|proof [--write] [--json]",
    "",
    "Shows the runs that would carry the trial on, and what they bring, judged on the settings that were really cut. Nothing is",
    "written unless --write is given; then the runs are added to the plan and the journal keeps how they were chosen.",
    "",
    "  fold        turns factors over, so that effects no longer hide in each other",
    "    --factors feed,speed   which; all unless given      --choices   says what each fold would free",
    "  axial       axial and centre runs onto corners, so that a curve can be seen",
    "    --axial block-orthogonal|rotatable|face|DISTANCE    --centre 3",
    "    --range corners|limits   limits: nothing is cut beyond low and high",
    "  replicate   cuts again only what decides a question",
    '    --effect "feed × speed"   or --at JSON or --recipe: the mean at a setting',
    "    --runs 4   or --half-width W: the fewest runs that bring the answer to ± W",
    "  separate    the fewest runs that tell explanations apart",
    '    --between "depth = feed × speed"   or JSON: ["depth","feed × speed"], [[{"feed":1}],[{"speed":1}]]',
    "  proof       proof runs of a recipe, with the rule by which they pass or fail",
    "    --at JSON or --recipe   --rule share|parts|mean   --limit L --side at-most|at-least --log",
    "    --good-share 0.99 --bad-share 0.8   for the mean: --good-mean M --bad-mean M --sigma S",
    "    --fail-good 0.05 --pass-bad 0.05 --at-most 100",
    "",
    "Every way:",
    "  --block new|last   new: a later day or edge, with a level of its own; last: cut on at once   --tie N   common runs",
    "  --order random|drift-proof|as-listed   --seed N   --confidence 0.95   --terms JSON",
    "  --sigma S          scatter from run to run; left out, from the readings, else all is told in multiples of it",
    "  --response NAME    which response sigma and recipe are of",
  ].join("\n"),
  options: growOptions,
  words: [1, 1],
  run: async ({ words: [name], options, json }, terminal) => {
    const trial = await openTrial(name, { root: experimentsRoot(terminal), now: terminal.now });
    const response = textOption(options, "response");
    const rule = choiceOption(options, "rule", ["parts", "mean", "share"]);
    const facts = growingFacts(trial, {
      ...(response === undefined ? {} : { response }),
      for: rule === undefined || rule === "mean" ? "mean" : "next-part",
    });
    const how = howTyped(options, facts);
    if (how.by === "fold" && options["choices"] === true) {
      const choices = foldChoices(trial);
      if (json) terminal.out(JSON.stringify({ choices }));
      else for (const { text } of choices) terminal.out(wrapped(text, terminal.width, { indent: "  " }));
      return 0;
    }
    const growth = grow(trial, how);
    const written = options["write"] === true;
    const checksum = written
      ? (await addGrowth(trial.folder, growth, { now: terminal.now })).checksum
      : trial.checksum;
    if (json) terminal.out(JSON.stringify({ ...growthJson(growth), sigma: facts.sigma, written, checksum }));
    else
      terminal.out(
        growthText(
          trial,
          growth,
          textOption(options, "sigma") === undefined ? facts.sigmaText : "σ is the one that was given.",
          written,
          terminal.width,
        ),
      );
    return 0;
  },
};

/** A growth as JSON: the added runs and what they bring. */
function growthJson({ by, how, runs, block, orderRules, notes, brings, judged, proof }: Growth) {
  return {
    by,
    how,
    block,
    runs,
    orderRules,
    notes,
    brings,
    before: judged.before,
    after: judged.after,
    proof,
  };
}

function growthText(
  { spec }: TrialFolder,
  growth: Growth,
  sigmaText: string,
  written: boolean,
  width: number,
): string {
  const table = alignedTable(
    ["run", "block", "why", ...spec.factors.map(({ name }) => name)],
    growth.runs.map(({ run, block, role, settings }) => [
      String(run),
      String(block),
      role,
      ...spec.factors.map((factor) => settingText(factor, settings[factor.name], spec.display)),
    ]),
  );
  const lines = (texts: readonly string[]) =>
    texts.map((text) => wrapped(`- ${text}`, width, { indent: "  " }));
  const count = `${growth.runs.length} run${growth.runs.length === 1 ? "" : "s"}`;
  return [
    `${spec.title}: ${count} to add by ${growth.by}, in cutting order.`,
    "",
    table,
    "",
    "What they bring:",
    ...lines([...growth.brings, sigmaText]),
    "",
    "Order and place:",
    ...lines([...growth.orderRules, ...growth.notes]),
    "",
    written
      ? `Added: ${count} to plan.csv. The run sheet shows them.`
      : "Nothing is written yet: the same with --write adds them to the plan.",
  ].join("\n");
}
