import { termsOf, type Term } from "../../model/index.ts";
import type { Factor, Run, Setting } from "../../trial/index.ts";
import { listed } from "../../units/index.ts";
import { LayoutError } from "../error.ts";
import { sameSetting } from "../levels.ts";
import { effectNames } from "../two-level/effect-text.ts";
import { cornersOf, cutOf, plannedLevels } from "./cut.ts";
import type { Cut, Grown, Wanted } from "./growth.ts";
import type { HowBy } from "./how.ts";
import { aliasGroups, splitGroups } from "./alias-groups.ts";
import { countedResolution, countedWords, type CountedWord } from "./words-of-runs.ts";

/** Longest product that is counted: as far as resolution V, and what hides among effects of two factors. */
const LONGEST = 5;

/** What folding over these factors does to what hides in what, counted from the runs. */
export interface FoldChoice {
  readonly factors: readonly string[];
  /** Length of the shortest product that never changes; null beyond five factors. */
  readonly resolutionBefore: number | null;
  readonly resolutionAfter: number | null;
  /** What can be told apart afterwards, in alias words: "A = BC splits into A | BC". */
  readonly frees: readonly string[];
  /** What still hides in what afterwards, among effects of one and two factors. */
  readonly leaves: readonly string[];
  readonly runs: number;
  readonly text: string;
}

/**
 * What a fold of all factors, and of each one alone, would free. Use it to choose: a fold of all factors clears main effects of
 * products of two; a fold of one factor clears that factor and all its products (Box, Hunter and Hunter, Statistics for
 * Experimenters, 2nd ed. 2005, chapter 6; NIST/SEMATECH e-Handbook, section 5.3.3.8). Everything is counted from the runs,
 * with those that are to be added. Refuses runs that are not at two settings of each factor.
 *
 * Example: of the four runs of A, B and C = AB every fold frees the same: "A = BC splits into A | BC", and so for B and C.
 */
export function foldChoices(grown: Grown): readonly FoldChoice[] {
  const cut = cutOf(grown);
  const source = sourceOf(cut);
  const moved = source.factors.map(({ name }) => name);
  const choices = [moved, ...(moved.length > 1 ? moved.map((name) => [name]) : [])];
  return choices.map((factors) => choiceOf(source, factors));
}

/** The runs that a fold mirrors, with their factors that moved and both settings of each. */
interface Source {
  readonly runs: readonly Run[];
  readonly factors: readonly Factor[];
  readonly levels: readonly (readonly [Setting, Setting])[];
}

function sourceOf(cut: Cut): Source {
  const runs = cornersOf(cut);
  const moved = cut.factors
    .map((factor) => ({ factor, levels: plannedLevels(factor, runs) }))
    .filter(({ levels }) => levels.length > 1);
  const more = moved.filter(({ levels }) => levels.length > 2);
  if (moved.length === 0 || more.length > 0) {
    throw new LayoutError(
      moved.length === 0
        ? "grow by fold: no factor is cut at two settings, so there is nothing to turn over. Lay the trial out first."
        : `grow by fold: ${listed(more.map(({ factor, levels }) => `${factor.name} is cut at ${levels.length} settings`))}, and a fold turns over factors of two. Use "separate" to tell two explanations apart, or "replicate".`,
    );
  }
  return {
    runs,
    factors: moved.map(({ factor }) => factor),
    levels: moved.map(({ levels }) => [levels[0] ?? "", levels[1] ?? ""]),
  };
}

function choiceOf(source: Source, names: readonly string[]): FoldChoice {
  const rows = signsOf(source, source.runs);
  const turned = source.factors.map(({ name }) => names.includes(name));
  const folded = rows.map((row) => row.map((sign, place) => (turned[place] ? -sign : sign)));
  const before = countedWords(rows, LONGEST);
  const after = countedWords([...rows, ...folded], LONGEST);
  const effects = effectNames(source.factors.map(({ name }) => name));
  const [was, is] = [countedResolution(before), countedResolution(after)];
  const groups = aliasGroups([...rows, ...folded], effects);
  const frees = splitGroups(aliasGroups(rows, effects), groups).map(({ text }) => text);
  const leaves = groups.filter(({ texts }) => texts.length > 1).map(({ texts }) => texts.join(" = "));
  const which = names.length === source.factors.length ? "all factors" : listed(names);
  return {
    factors: names,
    resolutionBefore: was,
    resolutionAfter: is,
    frees,
    leaves,
    runs: folded.length,
    text: `Fold ${which}: ${freesText(frees, sharesIn(before), sharesIn(after))}${resolutionText(was, is)} ${leavesText(leaves, is)}`,
  };
}

/** The largest part of a product of two factors in a main effect. */
function sharesIn(words: readonly CountedWord[]): number {
  return Math.max(
    0,
    ...words.filter(({ places }) => places.length === 3).map(({ share }) => Math.abs(share)),
  );
}

function freesText(frees: readonly string[], before: number, after: number): string {
  const partly =
    before > 0 && before < 1 && after === 0
      ? `no product of two factors stands in a main effect any more (the largest part was ${before.toFixed(2)})`
      : "";
  if (frees.length === 0) return `${partly === "" ? "nothing is freed" : partly}.`;
  return `${partly === "" ? "" : `${partly}; `}${frees.length <= 12 ? frees.join("; ") : `${frees.slice(0, 12).join("; ")}; and ${frees.length - 12} more`}.`;
}

function resolutionText(was: number | null, is: number | null): string {
  if (was === is || was === null) return "";
  return ` Resolution ${roman(was)} becomes ${is === null ? "V or better" : roman(is)}.`;
}

function leavesText(leaves: readonly string[], resolution: number | null): string {
  if (leaves.length > 0) return `Still one and the same: ${shortened(leaves)}.`;
  return resolution === null || resolution > 4
    ? "No effect of one or two factors hides in another."
    : "Longer products still hide.";
}

/** As many as a reader takes in. */
export function shortened(texts: readonly string[], most = 12): string {
  return texts.length <= most
    ? listed(texts)
    : `${texts.slice(0, most).join(", ")} and ${texts.length - most} more`;
}

function roman(resolution: number): string {
  return ["", "I", "II", "III", "IV", "V", "VI", "VII", "VIII"][resolution] ?? String(resolution);
}

/** Settings as −1 and +1. */
function signsOf({ factors, levels }: Source, runs: readonly Run[]): readonly (readonly number[])[] {
  return runs.map((run) =>
    factors.map((factor, place) => (sameSetting(run.settings[factor.name], levels[place]?.[0]) ? -1 : 1)),
  );
}

/** The runs of a fold: each run that was laid out, with the named factors turned over, as often as it was cut. */
export function wantedByFold(cut: Cut, how: HowBy<"fold">): Wanted {
  const source = sourceOf(cut);
  const moved = source.factors.map(({ name }) => name);
  const names = how.factors === "all" ? moved : how.factors;
  const unknown = names.filter((name) => !moved.includes(name));
  if (unknown.length > 0) {
    throw new LayoutError(
      `grow.factors: ${listed(unknown.map((name) => `"${name}"`))} ${unknown.length === 1 ? "is" : "are"} not cut at two settings in this trial. Fold ${listed(moved, "or")}.`,
    );
  }
  const choice = choiceOf(source, names);
  const partly = choice.text.includes("any more");
  if (choice.frees.length === 0 && !partly) throw nothingFreed(cut, source, choice);
  const [judged, note] = judgedBy(cut, source);
  const runs = source.runs.map((run) => ({
    role: "corner" as const,
    settings: {
      ...run.settings,
      ...Object.fromEntries(
        source.factors.flatMap((factor, place) =>
          names.includes(factor.name)
            ? [[factor.name, otherOf(source.levels[place] ?? ["", ""], run.settings[factor.name])]]
            : [],
        ),
      ),
    },
  }));
  return {
    runs,
    notes: [
      `The ${runs.length} runs of the first part again, with ${names.length === moved.length ? "every factor" : listed(names)} turned over.`,
      ...(how.terms ? [] : note),
    ],
    terms: how.terms ?? judged,
    brings: [choice.text],
  };
}

/** Products of two factors are judged where they leave the error something; else main effects, with the reason. */
function judgedBy(cut: Cut, source: Source): readonly [readonly Term[], readonly string[]] {
  const pairs = termsOf("interactions", source.factors);
  const rows = signsOf(source, source.runs);
  const groups = aliasGroups(
    [...rows, ...rows.map((row) => row.map((sign) => -sign))],
    effectNames(source.factors.map(({ name }) => name)),
  );
  const left = cut.planned.length + source.runs.length - groups.length - 2;
  if (left >= FEWEST_DF) return [pairs, []];
  return [
    termsOf("main", source.factors),
    [
      "Widths are told for main effects, products of two factors taken as nil: with them all in the model too little is left for error.",
    ],
  ];
}

/** With fewer degrees of freedom than this the interval says more about t than about the runs. */
const FEWEST_DF = 3;

function nothingFreed(cut: Cut, source: Source, choice: FoldChoice): LayoutError {
  const others = foldChoices({ factors: cut.factors, runs: source.runs }).filter(
    ({ frees }) => frees.length > 0,
  );
  const mend =
    choice.leaves.length === 0
      ? 'Nothing of one or two factors hides in these runs: a fold is a replicate. Use "replicate" to narrow an answer, or "axial" to see curves.'
      : others.length === 0
        ? 'No fold helps; use "separate" to tell two explanations apart.'
        : `Fold ${listed(
            others.map(({ factors }) => factors.join(" and ")),
            "or",
          )} instead.`;
  return new LayoutError(`grow by fold: turning over ${listed(choice.factors)} frees nothing. ${mend}`);
}

function otherOf([low, high]: readonly [Setting, Setting], setting: Setting | undefined): Setting {
  return sameSetting(setting, low) ? high : low;
}
