import {
  compareLevels,
  equivalence,
  fitLinear,
  isInterval,
  main,
  observeTable,
  permutationTestInWorkers,
  type Comparison,
  type Equivalence,
  type Observations,
  type Permutation,
} from "../../model/index.ts";
import type { DataTable } from "../../store/index.ts";
import { formatNumber, listed } from "../../units/index.ts";
import { alignedTable, wrapped } from "../aligned-table.ts";
import { sayHowFar } from "../drawn-anew.ts";
import { UsageError } from "../error.ts";
import {
  namesOption,
  numberOption,
  probabilityOption,
  requiredOption,
  textOption,
  wholeNumberOption,
} from "../option-values.ts";
import { readDataTable } from "../read-file.ts";
import type { OptionValues, Verb } from "../verb.ts";

export const compareVerb: Verb = {
  name: "compare",
  summary: "compare edges, coolants, cutters: how far apart, and how sure",
  help: [
    "trycut compare DATA.csv --response NAME --factor edge [--with new] [--json]",
    "",
    "Compares the levels of a factor: every pair, or each with one level, with intervals that hold all together. Lines that share a",
    "number in a column `run` are repeats and are averaged. A pair is told as `to` less `from`, with --log as a ratio.",
    "",
    "  --response NAME      the column that is compared",
    "  --factor NAME        the column with the levels; may be left out where one column has words in it",
    "  --with LEVEL         compare each level with this one only",
    "  --also a,b           other factors that were moved, allowed for: levels are compared with these in the middle",
    "  --categories a,b     other factors whose numbers are names",
    "  --block NAME         a column of blocks: days, parts, set-ups, allowed for",
    "  --log                compare as ratios, on logarithms",
    "  --unequal            each level with a scatter of its own",
    "  --ranks              by the order of the readings alone",
    "  --holm               p by Holm’s steps in place of Tukey’s or Dunnett’s",
    "  --margin 0.1         also say whether the levels are alike within this difference (with --log: this factor, above 1)",
    "  --confidence 0.95    of the intervals together",
    "  --shuffles 9999      also test all levels together by letting runs change places; Ctrl-C stops with those so far",
    "  --seed 1             of --shuffles",
  ].join("\n"),
  options: {
    response: { type: "string" },
    factor: { type: "string" },
    with: { type: "string" },
    also: { type: "string" },
    categories: { type: "string" },
    block: { type: "string" },
    log: { type: "boolean" },
    unequal: { type: "boolean" },
    ranks: { type: "boolean" },
    holm: { type: "boolean" },
    margin: { type: "string" },
    shuffles: { type: "string" },
    seed: { type: "string" },
    confidence: { type: "string" },
  },
  words: [1, 1],
  run: async ({ words: [file], options, json }, terminal) => {
    const response = requiredOption(options, "response");
    const asked = shufflesTyped(options);
    const confidence = probabilityOption(options, "confidence");
    const table = await readDataTable(file, terminal);
    const factor = factorTyped(table, options, response);
    const observations = observed(table, options, { response, factor });
    const margin = numberOption(options, "margin");
    const common = {
      factor,
      control: textOption(options, "with"),
      log: options["log"] === true,
      scatter: options["unequal"] === true ? ("unequal" as const) : ("alike" as const),
      confidence,
    };
    const comparison = compareLevels(observations, {
      ...common,
      by: options["ranks"] === true ? "ranks" : "means",
      adjust: options["holm"] === true ? "holm" : "simultaneous",
    });
    if (margin !== undefined && options["ranks"] === true)
      throw new UsageError("--margin goes by means; leave out --ranks.");
    const alike = margin === undefined ? null : equivalence(observations, { ...common, margin });
    const shuffled =
      asked === null
        ? null
        : await permutationTestInWorkers(fitLinear(observations, { log: common.log }), {
            ...asked,
            term: main(factor),
            signal: terminal.signal,
            onProgress: sayHowFar(terminal, "orders of the runs"),
          });
    if (json)
      terminal.out(
        JSON.stringify({
          ...comparisonJson(comparison, alike),
          ...(shuffled === null ? {} : { permutation: shuffled }),
        }),
      );
    else terminal.out(comparisonText(comparison, { alike, shuffled }, terminal.width));
    return 0;
  },
};

/** How many orders to try; null where none was asked for. Runs change places only where they scatter alike. */
function shufflesTyped(options: OptionValues): { readonly draws: number; readonly seed: number } | null {
  const draws = wholeNumberOption(options, "shuffles", { least: 99, most: 1_000_000 });
  const seed = wholeNumberOption(options, "seed", { least: 0, most: Number.MAX_SAFE_INTEGER });
  if (draws === undefined) {
    if (seed !== undefined) throw new UsageError("--seed goes with --shuffles: how many orders to try.");
    return null;
  }
  if (options["unequal"] === true)
    throw new UsageError(
      "--shuffles does not go with --unequal: runs that change places must scatter alike.",
    );
  return { draws, seed: seed ?? 1 };
}

function observed(
  table: DataTable,
  options: OptionValues,
  { response, factor }: { readonly response: string; readonly factor: string },
): Observations {
  const also = namesOption(options, "also") ?? [];
  return observeTable(
    {
      columns: table.columns.map(({ name, unit, texts, numbers }) => ({
        name,
        unit,
        // Levels may be called by numbers; their names are as they were written.
        values: name === factor ? texts : (numbers ?? texts),
      })),
    },
    {
      response,
      factors: [factor, ...also.filter((name) => name !== factor)],
      log: options["log"] === true,
      block: textOption(options, "block"),
      categories: [factor, ...(namesOption(options, "categories") ?? [])],
    },
  );
}

/** The factor that was named, or the one column of words that can be meant. */
function factorTyped(table: DataTable, options: OptionValues, response: string): string {
  const typed = textOption(options, "factor");
  if (typed !== undefined) return typed;
  const level = textOption(options, "with");
  const taken = [response, textOption(options, "block"), ...(namesOption(options, "also") ?? [])];
  const found = table.columns
    .filter(({ name, numbers }) => numbers === null && !taken.includes(name))
    .filter(({ texts }) => level === undefined || texts.some((text) => text.trim() === level))
    .map(({ name }) => name);
  if (found.length === 1) return found[0];
  throw new UsageError(
    `--factor is needed: the column with the levels to compare${found.length > 1 ? `, one of ${listed(found, "or")}` : ""}.`,
  );
}

function comparisonJson(comparison: Comparison, alike: Equivalence | null) {
  return {
    pairs: comparison.pairs.map(({ from, to, as, value, p }) => ({
      from,
      to,
      [as]: value.estimate,
      low: isInterval(value) ? value.low : null,
      high: isInterval(value) ? value.high : null,
      p,
      ...(isInterval(value) ? {} : { reason: value.reason }),
    })),
    levels: comparison.levels.map(({ level, runs, mean, standardDeviation }) => ({
      level,
      runs,
      mean: mean.estimate,
      standardDeviation,
    })),
    overall: comparison.overall,
    method: comparison.methodText,
    confidence: comparison.confidence,
    notes: comparison.notes,
    ...(alike === null ? {} : { equivalence: equivalenceJson(alike) }),
  };
}

function equivalenceJson({ margin, pairs, methodText }: Equivalence) {
  return {
    margin,
    pairs: pairs.map(({ from, to, as, value, verdict, p, runsToTell }) => ({
      from,
      to,
      [as]: value.estimate,
      low: isInterval(value) ? value.low : null,
      high: isInterval(value) ? value.high : null,
      verdict,
      p,
      runsToTell,
    })),
    method: methodText,
  };
}

/** Intervals first, what else there is to know next, the numbers behind it last. */
function comparisonText(
  comparison: Comparison,
  { alike, shuffled }: { readonly alike: Equivalence | null; readonly shuffled: Permutation | null },
  width: number,
): string {
  const bullet = (text: string) => wrapped(`- ${text}`, width, { indent: "  " });
  return [
    ...comparison.pairs.map(({ sentence }) => bullet(sentence)),
    ...(alike?.pairs ?? []).map(({ sentence }) => bullet(sentence)),
    ...(comparison.overall === null ? [] : [bullet(comparison.overall.text)]),
    ...(shuffled === null ? [] : [bullet(shuffled.sentence)]),
    ...comparison.notes.map(bullet),
    "",
    "The numbers behind it:",
    pairTable(comparison),
    "",
    levelTable(comparison),
    "",
    wrapped([comparison.methodText, alike?.methodText ?? ""].join(" ").trim(), width),
  ].join("\n");
}

function pairTable({ pairs, confidence, logScale }: Comparison): string {
  const percent = `${Math.round(confidence * 1000) / 10} %`;
  return alignedTable(
    ["from", "to", logScale ? "ratio" : "difference", `${percent} from`, "to", "p"],
    pairs.map(({ from, to, value, p }) => {
      const half = isInterval(value) ? (value.high - value.low) / 2 : 0;
      const shown = (number: number | null) =>
        number === null
          ? "not known"
          : formatNumber(number, half > 0 ? { uncertainty: half } : { digits: 6 });
      return [
        from,
        to,
        shown(value.estimate),
        shown(isInterval(value) ? value.low : null),
        shown(isInterval(value) ? value.high : null),
        p === null ? "not known" : formatNumber(p, { digits: 2 }),
      ];
    }),
  );
}

function levelTable({ levels, factor, method, logScale }: Comparison): string {
  const middle = method === "ranks" ? "median" : logScale ? "geometric mean" : "mean";
  return alignedTable(
    [factor, "runs", middle, logScale ? "standard deviation of logarithms" : "standard deviation"],
    levels.map(({ level, runs, mean, standardDeviation }) => [
      level,
      String(runs),
      mean.estimate === null
        ? "not known"
        : formatNumber(
            mean.estimate,
            isInterval(mean) ? { uncertainty: (mean.high - mean.low) / 2 } : { digits: 4 },
          ),
      standardDeviation === null ? "not known" : formatNumber(standardDeviation, { digits: 3 }),
    ]),
  );
}
