import { stat } from "node:fs/promises";
import { resolve } from "node:path";
import { fitFloor, floorJson, observe, type FloorForm, type Observations } from "../model/index.ts";
import { observedRemarks, remarks, type Remark } from "../review/index.ts";
import { openTrial } from "../store/index.ts";
import type { Settings } from "../trial/index.ts";
import { contrastAsked, contrastJson } from "./contrast-option.ts";
import { RefusedError, UsageError } from "./error.ts";
import { experimentsRoot } from "./experiments-root.ts";
import { floorText } from "./floor-text.ts";
import { choiceOption, namesOption, probabilityOption, textOption } from "./option-values.ts";
import { parsedJson, readDataTable } from "./read-file.ts";
import { settingsFromJson } from "./settings-from-json.ts";
import { tableObservations } from "./table-observations.ts";
import type { Call, OptionValues, Terminal } from "./verb.ts";

const forms: readonly FloorForm[] = ["quadrature", "sum"];

export const floorHelp: readonly string[] = [
  "  --floor quadrature   finish with a floor that no smaller feed gets below: Ra² = floor² + (C · feed^a · …)²;",
  "                       sum: Ra = floor + C · feed^a · …. Says where the runs can't tell a floor from a smaller exponent, and which",
  "                       passes would. Takes a trial's name in place of the table too (its factors and response where none are named)",
];

/** Options that mean something for a law with a floor; every other option of the verb is refused by name. */
const meant = ["floor", "response", "factors", "categories", "confidence", "at", "from", "to", "json"];

const why: Readonly<Record<string, string>> = {
  model: "it is a model of its own",
  terms: "it is a model of its own",
  log: "it is fitted on logarithms already",
  block: "blocks are not fitted beside a floor",
  "through-origin": "its constant is a factor",
  random: "sources of chance are not fitted beside a floor",
};

/** The form that --floor asks for; undefined where it was not given. */
export function floorTyped(options: OptionValues): FloorForm | undefined {
  const form = choiceOption(options, "floor", forms);
  if (form === undefined) return undefined;
  const other = Object.keys(options).find((name) => options[name] !== undefined && !meant.includes(name));
  if (other !== undefined)
    throw new UsageError(
      `--${other} does not go with --floor${why[other] === undefined ? "" : `: ${why[other]}`}. Leave out one of the two.`,
    );
  return form;
}

/** `fit --floor`: fits a table or a trial and tells it. */
export async function runFloor(
  form: FloorForm,
  { words: [source], options, json }: Call,
  terminal: Terminal,
): Promise<number> {
  const { observations, remarks: noticed } = await observed(source, options, terminal);
  const factors = namesOption(options, "factors");
  const fit = fitFloor(observations, {
    form,
    confidence: probabilityOption(options, "confidence"),
    ...(factors === undefined ? {} : { factors }),
  });
  const typed = textOption(options, "at");
  const places: readonly Settings[] =
    typed === undefined ? [] : settingsFromJson(parsedJson(typed, "--at"), "--at");
  const asked = contrastAsked(fit, options);
  terminal.out(
    json
      ? JSON.stringify({ ...floorJson(fit, { at: places }), ...contrastJson(asked), remarks: noticed })
      : floorText(fit, { asked, places, remarks: noticed }, terminal.width),
  );
  return 0;
}

async function observed(
  source: string,
  options: OptionValues,
  terminal: Terminal,
): Promise<{ readonly observations: Observations; readonly remarks: readonly Remark[] }> {
  if (await isTable(source, terminal)) {
    const observations = tableObservations(await readDataTable(source, terminal), options, { log: false });
    return { observations, remarks: observedRemarks(observations) };
  }
  if (options["categories"] !== undefined)
    throw new UsageError("--categories goes with a table: a trial says itself which factors are categories.");
  const trial = await openTrial(source, { root: experimentsRoot(terminal) });
  return {
    observations: observe(trial, textOption(options, "response")),
    remarks: remarks(trial),
  };
}

/** A trial's name without --floor: only a table takes the other models. */
export async function refuseTrial(source: string, terminal: Terminal): Promise<void> {
  if (await isTable(source, terminal)) return;
  const folder = resolve(experimentsRoot(terminal), source);
  const isTrial = await stat(resolve(folder, "trial.json")).then(
    () => true,
    () => false,
  );
  if (isTrial)
    throw new RefusedError(
      `${source} is a trial; expected a table such as runs.csv, or a trial with --floor quadrature. A trial's other models are fitted on its review page, by \`publish ${source}\`, and in a notebook.`,
    );
}

/** What ends like a table or is a file; any other word is the name of a trial. */
async function isTable(source: string, { folder }: Pick<Terminal, "folder">): Promise<boolean> {
  if (/\.(csv|tsv|txt)$/i.test(source)) return true;
  return stat(resolve(folder, source)).then(
    (found) => found.isFile(),
    () => false,
  );
}
