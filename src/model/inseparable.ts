import { listed } from "../units/index.ts";
import type { Design } from "./design.ts";
import type { InseparableSet } from "./fit.ts";
import type { Solved } from "./solved.ts";

interface Group {
  readonly dropped: number[];
  readonly on: readonly number[];
}

/**
 * The terms that these runs can't tell apart, in words. A term that earlier ones span is not fitted; whatever the fit says of those
 * may belong to it. Terms that lean on the same ones are told of together.
 */
export function inseparableSets(solved: Solved): readonly InseparableSet[] {
  const { design, solution } = solved;
  const groups = new Map<string, Group>();
  for (const { column, on } of solution.dropped) {
    const source = design.columns[column].source;
    const sources = [...new Set(on.map((piece) => design.columns[piece.column].source))].filter(
      (other) => design.sources[other].role !== "intercept",
    );
    const key = sources.length === 0 ? `alone ${source}` : sources.join(" ");
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { dropped: [source], on: sources });
    else if (!group.dropped.includes(source)) group.dropped.push(source);
  }
  return [...stillCategories(solved), ...[...groups.values()].map((group) => describe(group, solved))];
}

/** Categories that stood at one level have no column to be left out; they are named all the same, with their products. */
function stillCategories({ design }: Solved): readonly InseparableSet[] {
  return design.sources
    .filter(({ role, columns }) => role === "term" && columns.length === 0)
    .map(({ term, label }) => {
      const still = Object.keys(term).filter((name) =>
        design.factors.some(
          (factor) => factor.name === name && factor.kind === "category" && factor.levels.length < 2,
        ),
      );
      return { terms: [term], labels: [label], text: `${listed(still)} stood at one setting in every run` };
    });
}

function describe({ dropped, on }: Group, solved: Solved): InseparableSet {
  const { design } = solved;
  const members = [...on, ...dropped.filter((source) => !on.includes(source))];
  const labels = members.map((source) => design.sources[source].label);
  const terms = members.map((source) => design.sources[source].term);
  return { terms, labels, text: words(dropped, on, design, solved) };
}

function words(dropped: readonly number[], on: readonly number[], design: Design, solved: Solved): string {
  const name = (source: number): string => design.sources[source].label;
  const own = dropped.map(name);
  if (on.length === 0) return standing(dropped[0], design, solved);
  const part = dropped.every((source) => on.includes(source));
  if (part) return `Not every level of ${listed(own)} can be told apart in these runs`;
  const all = [...on, ...dropped].map(name);
  const simple = [...on, ...dropped].every((source) => isMain(source, design));
  if (on.length === 1 && simple) return `${listed(all)} moved together in every run`;
  if (on.length === 1) return `${listed(all)} can't be told apart in these runs`;
  const others = on.map(name);
  const shown = others.length > 6 ? [...others.slice(0, 5), `${others.length - 5} other terms`] : others;
  const verb = own.length === 1 ? "is" : "are each";
  return `${listed(own)} ${verb} a mixture of ${listed(shown)} in these runs and can't be told from them`;
}

/** A term that adds nothing to the constant: it never moved, or was cut at too few settings to show. */
function standing(source: number, design: Design, { observations }: Solved): string {
  const { term, label } = design.sources[source];
  const names = Object.keys(term);
  const settings = (name: string): number => new Set(observations.rows.map((row) => row.settings[name])).size;
  const still = names.filter((name) => settings(name) < 2);
  if (still.length > 0) return `${listed(still)} stood at one setting in every run`;
  if (names.length === 1 && term[names[0]] > 1) {
    return `${label} can't be told: ${names[0]} was cut at ${settings(names[0])} settings only, a bend needs one more`;
  }
  return `${label} had one value in every run, so it can't be told from the mean`;
}

function isMain(source: number, design: Design): boolean {
  const degrees = Object.values(design.sources[source].term);
  return degrees.length === 1 && degrees[0] === 1;
}
