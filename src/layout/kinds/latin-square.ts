import { listed } from "../../units/index.ts";
import { z } from "zod";
import { seededRandom } from "../../numerics/index.ts";
import type { Factor } from "../../trial/index.ts";
import { galoisField, primePower } from "../algebra/galois-field.ts";
import { commonShape, wholeNumber } from "../common-options.ts";
import { blocksOfReplicates, numbered } from "../deal.ts";
import { defineKind, refuseTooManyRuns } from "../define-kind.ts";
import { LayoutError } from "../error.ts";
import { levelsOf } from "../levels.ts";

const schema = z.strictObject({
  kind: z.literal("latin-square"),
  ...commonShape,
  /** How many levels a quantity gets that has no `levels` of its own. */
  levels: wholeNumber(2, 50).default(3),
});

/**
 * Three factors: a Latin square (or, where one has fewer levels, a Youden square: Youden, Contributions from Boyce Thompson
 * Institute 9, 1937). Four and more: mutually orthogonal squares over a finite field (Bose 1938). Rows, columns and symbols
 * are put in random order from the seed.
 */
export const latinSquare = defineKind({
  kind: "latin-square",
  summary:
    "What is compared, kept clear of two or more nuisances at once (position, day, operator), in as few runs as levels squared.",
  schema,
  layOut: (factors, options) => {
    if (options.centrePoints > 0) {
      throw new LayoutError(
        `layout.centrePoints: a square has no centre; ${options.centrePoints} centre runs can't be added. Set it to 0.`,
      );
    }
    const lists = factors.map((factor) => levelsOf(factor, options.levels));
    const counts = lists.map((list) => list.length);
    const cells = cellsFor(factors, counts);
    const blockOf = blocksOfReplicates("latin-square", options.replicates, options.blocks);
    refuseTooManyRuns("latin-square", cells.length, options.replicates);
    const random = seededRandom(options.seed);
    const runs = blockOf.flatMap((block) => {
      const shuffled = lists.map((list) => random.shuffle(list));
      return cells.map((cell) => ({
        block,
        role: "level" as const,
        settings: Object.fromEntries(
          factors.map((factor, place) => [factor.name, shuffled[place]?.[cell[place] ?? 0] ?? ""]),
        ),
      }));
    });
    return { runs: numbered(runs), notes: [noteFor(factors, counts)] };
  },
});

/** One entry a run: the level (from 0) of each factor. */
function cellsFor(factors: readonly Factor[], counts: readonly number[]): readonly (readonly number[])[] {
  const most = Math.max(0, ...counts);
  const short = counts.flatMap((count, place) => (count < most ? [place] : []));
  if (factors.length < 3) {
    throw new LayoutError(
      `layout "latin-square": ${factors.length} factor${factors.length === 1 ? "" : "s"}; a square takes three or more: what is compared and two nuisances. With two, use "factorial".`,
    );
  }
  if (short.length === 0) return squareCells(factors.length, most);
  const [place = 0] = short;
  if (factors.length === 3 && short.length === 1) return youdenCells(most, counts[place] ?? 0, place);
  throw new LayoutError(
    `layout "latin-square": factors have ${listed(counts.map((count, index) => `${count} levels (${factors[index]?.name})`))}. Give all ${most} levels, or, of three factors, one of them fewer.`,
  );
}

function squareCells(factors: number, levels: number): readonly (readonly number[])[] {
  const range = Array.from({ length: levels }, (_, index) => index);
  if (factors === 3)
    return range.flatMap((row) => range.map((column) => [row, column, (row + column) % levels]));
  const most = primePower(levels) ? levels + 1 : 3;
  if (factors > most) {
    throw new LayoutError(
      `layout "latin-square": ${factors} factors of ${levels} levels need ${factors - 2} squares at right angles; this tool makes ${most - 2} for ${levels} levels. Take at most ${most} factors, or ${nearestPrimePower(levels, factors)} levels.`,
    );
  }
  const field = galoisField(levels);
  return range.flatMap((row) =>
    range.map((column) => [
      row,
      column,
      ...Array.from({ length: factors - 2 }, (_, index) => field.add(field.multiply(index + 1, row), column)),
    ]),
  );
}

function nearestPrimePower(levels: number, factors: number): number {
  let found = Math.max(levels, factors - 1);
  while (!primePower(found)) found += 1;
  return found;
}

/** Columns and symbols of `levels` levels, one factor of fewer: each pair of symbols meets equally often in its levels. */
function youdenCells(levels: number, fewer: number, place: number): readonly (readonly number[])[] {
  const set = differenceSet(levels, fewer);
  if (!set) {
    const works = Array.from({ length: levels - 2 }, (_, index) => index + 2).filter((size) =>
      differenceSet(levels, size),
    );
    throw new LayoutError(
      `layout "latin-square": this tool has no Youden square of ${levels} symbols in ${fewer} rows. Take ${listed(works.map(String), "or")} levels, or all ${levels}.`,
    );
  }
  const range = Array.from({ length: levels }, (_, index) => index);
  return set.flatMap((shift, row) =>
    range.map((column) => {
      const [first, second] = [column, (column + shift) % levels];
      return place === 0 ? [row, first, second] : place === 1 ? [first, row, second] : [first, second, row];
    }),
  );
}

/** The squares modulo a prime that leaves 3 when divided by 4: a difference set of half its numbers (Paley 1933). */
function residues(levels: number): readonly number[] | undefined {
  const prime = Array.from({ length: levels - 2 }, (_, index) => index + 2).every(
    (own) => levels % own !== 0,
  );
  if (!prime || levels % 4 !== 3) return undefined;
  const squares = new Set(Array.from({ length: levels - 1 }, (_, index) => (index + 1) ** 2 % levels));
  return [...squares].sort((one, other) => one - other);
}

/** Steps after which the search for a difference set is given up; those up to 31 are found in far fewer. */
const MOST_STEPS = 300_000;

/** `size` numbers whose differences modulo `levels` hold every other number equally often; undefined where there are none. */
function differenceSet(levels: number, size: number): readonly number[] | undefined {
  const squares = residues(levels);
  if (squares?.length === size) return squares;
  if (size === levels - 1) return Array.from({ length: size }, (_, index) => index);
  const each = (size * (size - 1)) / (levels - 1);
  if (!Number.isInteger(each) || size < 2) return undefined;
  let steps = 0;
  const search = (chosen: readonly number[], counts: readonly number[]): readonly number[] | undefined => {
    if (chosen.length === size) return chosen;
    for (let next = (chosen[chosen.length - 1] ?? -1) + 1; next < levels; next += 1) {
      steps += 1;
      if (steps > MOST_STEPS) return undefined;
      const more = [...counts];
      for (const one of chosen) {
        for (const difference of [next - one, one - next + levels])
          more[difference] = (more[difference] ?? 0) + 1;
      }
      const found = more.every((count) => count <= each) ? search([...chosen, next], more) : undefined;
      if (found) return found;
    }
    return undefined;
  };
  return search([0], new Array<number>(levels).fill(0));
}

function noteFor(factors: readonly Factor[], counts: readonly number[]): string {
  const most = Math.max(...counts);
  const short = counts.findIndex((count) => count < most);
  if (short >= 0) {
    return `Youden square: ${listed(factors.map((factor) => factor.name))} can be told apart as long as none changes the effect of another.`;
  }
  return `${factors.length === 3 ? "Latin" : factors.length === 4 ? "Graeco-Latin" : "Orthogonal"} square: every level of a factor meets every level of each other factor once. It holds as long as no factor changes the effect of another.`;
}
