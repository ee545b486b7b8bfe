import {
  findTransform,
  fitJson,
  fitLinear,
  fitPowerLaw,
  heredities,
  isMixedFit,
  mixedFitJson,
  type Fit,
  type Heredity,
  type ModelKind,
  type Observations,
  type Term,
  type Transform,
} from "../../model/index.ts";
import { fitRemarks } from "../../review/index.ts";
import type { DataTable } from "../../store/index.ts";
import type { Settings } from "../../trial/index.ts";
import { UsageError } from "../error.ts";
import { wrapped } from "../aligned-table.ts";
import { chosenTyped } from "../chosen-typed.ts";
import { drawAnew, drawingAsked, drawingHelp, drawingOptions, type DrawnAnew } from "../drawn-anew.ts";
import { drawnJson, drawnText } from "../drawn-text.ts";
import { contrastAsked, contrastJson } from "../contrast-option.ts";
import { fitText } from "../fit-text.ts";
import { floorHelp, floorTyped, refuseTrial, runFloor } from "../floor-fit.ts";
import { asksForMixed, mixedFitted, randomColumns } from "../mixed-fit.ts";
import { choiceOption, namesOption, probabilityOption, textOption } from "../option-values.ts";
import { parsedJson, readDataTable } from "../read-file.ts";
import { settingsFromJson } from "../settings-from-json.ts";
import { tableObservations } from "../table-observations.ts";
import { termsFromJson } from "../terms-from-json.ts";
import { screen, screeningText, type Screened } from "../screening-text.ts";
import type { OptionValues, Verb } from "../verb.ts";

const models: readonly ModelKind[] = ["main", "interactions", "surface", "power-law"];

export const fitVerb: Verb = {
  name: "fit",
  summary: "fit a model to a table of runs",
  help: [
    "trycut fit DATA.csv --response NAME --factors a,b [--model main|interactions|surface|power-law] [--json]",
    "trycut fit TRIAL --floor quadrature|sum [--json]",
    "",
    "Fits a model to a table with a header line; a unit in brackets after a name is not part of the name. Columns of words are",
    "categories, compared with the level that comes first. Lines that share a number in a column `run` are repeats and are averaged.",
    "",
    "  --response NAME      the column to explain",
    "  --factors a,b        the columns that explain it",
    "  --model              main effects (default), interactions, surface, or power-law (on logarithms)",
    '  --terms JSON         the terms outright, such as \'[{"feed":1},{"feed":2},{"feed":1,"speed":1}]\'',
    "  --categories a,b     columns whose numbers are names",
    "  --block NAME         a column of blocks: days, parts, set-ups",
    "  --log                fit the natural logarithm of the response",
    "  --through-origin     no intercept",
    "  --coded              coefficients for factors coded −1 to +1",
    "  --confidence 0.95    of the intervals",
    "  --find-transform     the power of the response that fits best, and whether logarithms or none will do",
    '  --chosen WORDS       say how these same data chose the model, such as "the best of five"; the fit then says so too',
    "  --screen             with few runs: which terms do something, with every model that does about as well;",
    "                       strong, weak or none says which main effects a product asks for",
    "  --random day,plot    columns of what varies by chance: days, parts, set-ups, run (readings are lines then);",
    "                       replicate+edge means each combination of the two",
    "  --small-sample       with --random: satterthwaite (default) or kenward-roger",
    ...floorHelp,
    ...drawingHelp,
    '  --at JSON            predict there, such as \'{"feed":0.15,"edge":"used"}\', or a list of such',
    "  --from JSON --to JSON",
    "                       what going from one setting to another does; what --to leaves out stays as in --from",
  ].join("\n"),
  options: {
    response: { type: "string" },
    factors: { type: "string" },
    model: { type: "string" },
    terms: { type: "string" },
    categories: { type: "string" },
    block: { type: "string" },
    log: { type: "boolean" },
    "through-origin": { type: "boolean" },
    coded: { type: "boolean" },
    confidence: { type: "string" },
    at: { type: "string" },
    floor: { type: "string" },
    from: { type: "string" },
    to: { type: "string" },
    screen: { type: "string" },
    chosen: { type: "string" },
    random: { type: "string" },
    "find-transform": { type: "boolean" },
    "small-sample": { type: "string" },
    ...drawingOptions,
  },
  words: [1, 1],
  run: async (call, terminal) => {
    const { options } = call;
    const floor = floorTyped(options);
    if (floor !== undefined) return runFloor(floor, call, terminal);
    const {
      words: [file],
      json,
    } = call;
    const drawing = drawingAsked(options);
    await refuseTrial(file, terminal);
    const table = await readDataTable(file, terminal);
    const model = modelTyped(options);
    const observations = observationsOf(table, options);
    const fit = fitted(observations, model, options);
    const at = textOption(options, "at");
    const predictions: readonly Settings[] =
      at === undefined ? [] : settingsFromJson(parsedJson(at, "--at"), "--at");
    const asked = contrastAsked(fit, options);
    const transform = options["find-transform"] === true ? findTransform(fit) : null;
    const remarks = fitRemarks(fit, { predictions });
    const heredity = choiceOption(options, "screen", heredities);
    const choice = heredity === undefined ? null : { observations, heredity };
    const drawn = await drawAnew(fit, drawing, { at: predictions, choice, terminal });
    const screened = screenedAs(fit, choice, drawn);
    if (json)
      terminal.out(
        JSON.stringify({
          ...(isMixedFit(fit) ? mixedFitJson(fit, { at: predictions }) : fitJson(fit, { at: predictions })),
          ...contrastJson(asked),
          ...transformJson(transform),
          ...(screened
            ? { screening: { ...screened, fit: fitJson(screened.fit, { at: predictions }) } }
            : {}),
          ...drawnJson(drawn),
          remarks,
        }),
      );
    else
      terminal.out(
        [
          ...(asked ? [wrapped(asked.sentence, terminal.width)] : []),
          fitText(fit, remarks, predictions, terminal.width),
          ...(transform ? [transformText(transform, terminal.width)] : []),
          ...(screened ? [screeningText(screened, terminal.width)] : []),
          ...drawnText(drawn, terminal.width),
        ].join("\n\n"),
      );
    return 0;
  },
};

function typedTerms(options: OptionValues): readonly Term[] | undefined {
  const typed = textOption(options, "terms");
  return typed === undefined ? undefined : termsFromJson(parsedJson(typed, "--terms"), "--terms");
}

function observationsOf(table: DataTable, options: OptionValues): Observations {
  const terms = typedTerms(options);
  const factors = namesOption(options, "factors") ?? [
    ...new Set((terms ?? []).flatMap((term) => Object.keys(term))),
  ];
  return tableObservations(table, options, {
    factors,
    log: takesLogarithms(options),
    random: randomColumns(options),
    needed: terms === undefined,
  });
}

function takesLogarithms(options: OptionValues): boolean {
  return options["log"] === true || options["model"] === "power-law";
}

/** The screening; where its choice was made anew or tried out, its fit says by how much the intervals widen. */
function screenedAs(
  { logScale: log, confidence }: Fit,
  choice: { readonly observations: Observations; readonly heredity: Heredity } | null,
  drawn: DrawnAnew,
): Screened | null {
  if (choice === null) return null;
  const found = screen(choice.observations, { heredity: choice.heredity, log, confidence });
  const tried = drawn.choice?.fit ?? drawn.choiceValidation?.fit;
  return found.twoStage.possible || tried === undefined ? found : { ...found, fit: tried };
}

function transformText({ text: found, notes, fitOptions }: Transform, width: number): string {
  const text = [found, ...notes].join(" ");
  if (fitOptions === null) return wrapped(text, width);
  const { log, chosenFrom } = fitOptions;
  return wrapped(
    `${text} To fit on the scale offered, so that the fit says that the readings chose it: ${log ? "--log " : ""}--chosen "${chosenFrom.how}".`,
    width,
  );
}

function transformJson(transform: Transform | null) {
  if (transform === null) return {};
  const { lambda, low, high, allowingForTerms, choices, text, notes, fitOptions } = transform;
  const chosenFrom = fitOptions?.chosenFrom ?? null;
  return { transform: { lambda, low, high, allowingForTerms, choices, text, notes, chosenFrom } };
}

interface ModelTyped {
  readonly model: ModelKind | undefined;
  readonly terms: readonly Term[] | undefined;
}

function modelTyped(options: OptionValues): ModelTyped {
  const model = choiceOption(options, "model", models);
  const terms = typedTerms(options);
  if (model !== undefined && terms !== undefined) throw new UsageError("Give --model or --terms, not both.");
  return { model, terms };
}

function fitted(observations: Observations, { model, terms }: ModelTyped, options: OptionValues): Fit {
  if (asksForMixed(options)) return mixedFitted(observations, { model, terms }, options);
  const common = {
    confidence: probabilityOption(options, "confidence"),
    coded: options["coded"] === true,
    ...chosenTyped(options),
    throughOrigin: options["through-origin"] === true,
  };
  if (model === "power-law") {
    if (common.throughOrigin)
      throw new UsageError("--through-origin has no meaning for a power law, whose constant is a factor.");
    const { confidence, coded } = common;
    return fitPowerLaw(observations, { confidence, coded, terms, ...chosenTyped(options) });
  }
  return fitLinear(observations, {
    ...common,
    log: takesLogarithms(options),
    ...(terms ? { terms } : { model: model ?? "main" }),
  });
}
