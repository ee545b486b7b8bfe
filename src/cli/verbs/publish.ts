import { relative } from "node:path";
import { publish, writeFinding } from "../../finding/index.ts";
import { pushOf } from "../../model/index.ts";
import { notePublished, openTrial } from "../../store/index.ts";
import { experimentsRoot } from "../experiments-root.ts";
import { probabilityOption } from "../option-values.ts";
import { limitsTyped, recipeOptions, searchTyped } from "../recipe-options.ts";
import type { Verb } from "../verb.ts";

export const publishVerb: Verb = {
  name: "publish",
  summary: "make the page and the data package of a trial",
  help: [
    'trycut publish TRIAL [--limit "Ra 0.8 µm"]... [--for mean|share|next] [--confidence 0.95] [--assurance 0.95] [--json]',
    "",
    "Writes finding/index.html, one page that opens anywhere without a network, and finding/TRIAL.zip with the same data in the",
    "open Data Package format, into the trial's folder.",
    "",
    "  --confidence   of the intervals",
    "  --limit, --for, --share, --parts, --assurance, --push, --hold",
    "                 what is asked of the recipe, as trycut recipe takes it; left out, the trial's limits for 95 % of parts",
  ].join("\n"),
  options: { confidence: { type: "string" }, ...recipeOptions },
  words: [1, 1],
  run: async ({ words: [name], options, json }, terminal) => {
    const trial = await openTrial(name, { root: experimentsRoot(terminal) });
    const search = searchTyped(options);
    const objective = search.objective ?? pushOf(trial, undefined);
    const finding = publish(trial, {
      date: terminal.now().toISOString().slice(0, 10),
      confidence: probabilityOption(options, "confidence"),
      recipe: {
        limits: limitsTyped(trial, options),
        ...(search.at === undefined ? {} : { at: search.at }),
        ...(objective === undefined ? {} : { objective }),
      },
    });
    const written = await writeFinding(trial.folder, finding);
    await notePublished(trial.folder, relative(trial.folder, written.page).replaceAll("\\", "/"), {
      now: terminal.now,
    });
    if (json) terminal.out(JSON.stringify({ trial: trial.name, checksum: finding.checksum, ...written }));
    else
      terminal.out(
        [
          `Page: ${written.page}`,
          `Data package: ${written.package}`,
          `Checksum of the data: ${finding.checksum}`,
        ].join("\n"),
      );
    return 0;
  },
};
