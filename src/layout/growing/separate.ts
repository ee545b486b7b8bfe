import { termKey, termsOf, type Term } from "../../model/index.ts";
import type { Run } from "../../trial/index.ts";
import { listed } from "../../units/index.ts";
import { LayoutError } from "../error.ts";
import { informationOf } from "../judge/information.ts";
import { modelColumns, type ModelColumns } from "../judge/model-columns.ts";
import { judge } from "../judge/judge.ts";
import { candidateRuns, type Candidate } from "./candidates.ts";
import { plannedLevels } from "./cut.ts";
import { effectOf, effectsOfChain, effectWords } from "./effect-words.ts";
import type { Cut, Wanted } from "./growth.ts";
import type { HowBy } from "./how.ts";
import { fewestSpanning, outside, spanOf } from "./spanning.ts";

/**
 * The fewest runs after which each term of the stated explanations can be told, other terms of the model notwithstanding.
 *
 * A term can be told when no combination of terms that the runs leave open holds it. So the runs to add must close every open
 * combination that holds a term of an explanation; each closes one at most, and a new block leaves one more open. Among the
 * smallest sets, which are found by trying all where they are few enough, the one with the fewest things changed from the
 * usual setting is taken, then the one that tells the explanations best.
 */
export function wantedBySeparation(cut: Cut, how: HowBy<"separate">): Wanted {
  const explanations = explanationsOf(cut, how);
  const asked = distinct(explanations.flat());
  const terms = distinct([...(how.terms ?? mainOf(cut)), ...asked]);
  const last = Math.max(...cut.asCut.map((run) => run.block));
  const block = how.block === "new" ? last + 1 : last;
  const candidates = candidateRuns(cut, terms);
  const model = modelColumns(cut.factors, terms, [
    ...cut.asCut,
    ...candidates.map(({ settings }) => ({ block, settings })),
  ]);
  const open = openCombinations(model, cut.asCut.length, asked);
  if (open.wanted.length === 0) throw alreadyApart(explanations);
  // Candidates that close the same combination are one; the one of the fewest changes stands for them.
  const rows = directions(candidates, open.rows);
  const fewest = fewestSpanning(
    rows.map(({ row }) => row),
    open.wanted,
  );
  if (fewest === null) throw neverApart(cut, explanations);
  const chosen = best(
    cut,
    terms,
    asked,
    block,
    fewest.sets.map((places) => places.flatMap((place) => rows[place]?.candidate ?? [])),
  );
  const words = explanations.map((explanation) => explanation.map(effectWords).join(" + "));
  return {
    runs: chosen.map(({ settings }) => ({ role: "added" as const, settings })),
    notes: [
      `${chosen.length === 1 ? "One run separates" : `${chosen.length} runs separate`} ${listed(words)}; ${fewest.proven ? "fewer can't (every smaller set was tried or is too small by its number)" : "fewer were not found"}.`,
      ...(how.block === "new" && chosen.length > 1
        ? [
            'One of them pays for the new block\'s own level; cut on at once with everything as it was ("block": "last"), it may be spared.',
          ]
        : []),
    ],
    terms,
    brings: [],
  };
}

function explanationsOf(cut: Cut, { between }: HowBy<"separate">): readonly (readonly Term[])[] {
  const read = (one: string | Term): Term => (typeof one === "string" ? effectOf(one, cut.factors) : one);
  const explanations =
    typeof between === "string"
      ? effectsOfChain(between, cut.factors).map((term) => [term])
      : between.map((one) => (Array.isArray(one) ? one.map(read) : [read(one as string | Term)])); // not an array
  for (const term of explanations.flat()) {
    for (const name of Object.keys(term))
      if (!cut.factors.some((factor) => factor.name === name)) effectOf(name, cut.factors);
  }
  const keys = explanations.map((terms) => terms.map(termKey).sort().join());
  const twice = keys.findIndex((key, index) => keys.indexOf(key) !== index);
  if (twice >= 0) {
    throw new LayoutError(
      `grow.between: ${(explanations[twice] ?? []).map(effectWords).join(" + ")} stands twice. Name two different explanations.`,
    );
  }
  return explanations;
}

function mainOf(cut: Cut): readonly Term[] {
  return termsOf(
    "main",
    cut.factors.filter((factor) => plannedLevels(factor, cut.asCut).length > 1),
  ).filter((term) => Object.keys(term).length > 0);
}

export function distinct(terms: readonly Term[]): readonly Term[] {
  return [...new Map(terms.map((term) => [termKey(term), term])).values()];
}

/**
 * What the cut runs leave open: each direction of the coefficients that they don't see. `rows` says how far each candidate
 * sees into these directions, `wanted` which of them hold a term that is asked about.
 */
function openCombinations(
  model: ModelColumns,
  cutRuns: number,
  asked: readonly Term[],
): { readonly rows: readonly (readonly number[])[]; readonly wanted: readonly (readonly number[])[] } {
  const { dropped } = informationOf(model.columns.map((column) => column.slice(0, cutRuns)));
  const open = dropped.map(({ column, on }) => {
    const direction = new Float64Array(model.columns.length);
    direction[column] = 1;
    for (const part of on) direction[part.column] = -part.coefficient;
    return direction;
  });
  const keys = new Set(asked.map(termKey));
  const own = model.estimands
    .filter(({ termIndex }) => keys.has(termKey(model.terms[termIndex] ?? {})))
    .flatMap(({ columns }) => columns);
  const runs = (model.columns[0]?.length ?? 0) - cutRuns;
  return {
    rows: Array.from({ length: runs }, (_, run) =>
      open.map((direction) =>
        direction.reduce(
          (sum, value, column) => sum + value * (model.columns[column]?.[cutRuns + run] ?? 0),
          0,
        ),
      ),
    ),
    wanted: spanOf(
      [...new Set(own)]
        .map((column) => open.map((direction) => direction[column] ?? 0))
        .filter((row) => row.some((value) => value !== 0)),
    ),
  };
}

/** One candidate for each direction that candidates see; those that see nothing open are left out. */
function directions(
  candidates: readonly Candidate[],
  rows: readonly (readonly number[])[],
): readonly { readonly candidate: Candidate; readonly row: readonly number[] }[] {
  const kept: { candidate: Candidate; row: readonly number[] }[] = [];
  candidates.forEach((candidate, index) => {
    const row = rows[index] ?? [];
    // Shorter than this is rounding of a coded row.
    if (Math.hypot(...row) < 1e-8) return;
    if (kept.some((other) => outside(spanOf([other.row]), row) === null)) return;
    kept.push({ candidate, row });
  });
  return kept;
}

/** Among sets of equally many runs: fewest things changed, then the smallest variance of what is asked. */
function best(
  cut: Cut,
  terms: readonly Term[],
  asked: readonly Term[],
  block: number,
  sets: readonly (readonly Candidate[])[],
): readonly Candidate[] {
  const changes = (set: readonly Candidate[]) => set.reduce((sum, one) => sum + one.changes, 0);
  const fewest = Math.min(...sets.map(changes));
  const keys = new Set(asked.map(termKey));
  const labels = new Set(
    modelColumns(cut.factors, terms, cut.asCut)
      .estimands.filter(({ termIndex }) => keys.has(termKey(terms[termIndex] ?? {})))
      .map(({ label }) => label),
  );
  const variance = (set: readonly Candidate[]): number => {
    const added = set.map(({ settings }): Pick<Run, "block" | "settings"> => ({ block, settings }));
    return judge([...cut.asCut, ...added], cut.factors, { terms, sigma: 1 })
      .terms.filter(({ label }) => labels.has(label))
      .reduce((sum, { standardError }) => sum + (standardError ?? Infinity) ** 2, 0);
  };
  const few = sets.filter((set) => changes(set) === fewest).slice(0, MOST_COMPARED);
  return few.reduce<{ set: readonly Candidate[]; variance: number }>(
    (chosen, set) => {
      const own = variance(set);
      // A gain in the last digits is no reason.
      return own < chosen.variance * (1 - 1e-9) ? { set, variance: own } : chosen;
    },
    { set: few[0] ?? [], variance: Infinity },
  ).set;
}

/** Sets that are compared by variance; each is a judgement. */
const MOST_COMPARED = 40;

function alreadyApart(explanations: readonly (readonly Term[])[]): LayoutError {
  return new LayoutError(
    `grow by separate: the runs tell ${listed(explanations.map((terms) => terms.map(effectWords).join(" + ")))} apart already. To know them better use "replicate".`,
  );
}

function neverApart(cut: Cut, explanations: readonly (readonly Term[])[]): LayoutError {
  const limits = cut.spec === null ? "" : " within the stated limits";
  return new LayoutError(
    `grow by separate: no runs at settings cut so far${limits} tell ${listed(explanations.map((terms) => terms.map(effectWords).join(" + ")))} apart. They are one and the same at these settings, or a limit forbids the run that differs: widen a limit, or give a factor a further level.`,
  );
}
