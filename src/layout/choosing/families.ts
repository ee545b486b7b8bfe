import type { Factor } from "../../trial/index.ts";
import { arrayPlans } from "../arrays/catalogue.ts";
import { boxBehnkenTables } from "../surface/box-behnken-table.ts";
import { categoriesOf, quantitiesOf } from "../levels.ts";
import type { Answers } from "./choice.ts";
import { FEWEST_DF, type CheckedQuestion, type Stake } from "./question.ts";
import { questionTerms } from "./question-terms.ts";

/** A layout before it is filled up with replicates and centre runs. */
export interface Family {
  readonly id: string;
  /** In words, without the number of runs. */
  readonly title: string;
  readonly layout: { readonly kind: string } & Readonly<Record<string, unknown>>;
  /** Runs of one replicate, without centre runs. */
  readonly size: number;
  /** Centre runs: fewest and most in all; each counts once at every combination of categories. */
  readonly centre: readonly [number, number];
  readonly replicable: boolean;
}

/** Most runs of one replicate that are looked at: more are cut in no trial of this kind. */
const MOST_SIZE = 1024;

/** Every kind that applies to the factors and the question; sizes rising. `passes` bounds what a search lays out. */
export function families(
  question: Pick<CheckedQuestion, "factors" | "stake" | "varianceRatio">,
  passes: number,
): readonly Family[] {
  const { factors, stake } = question;
  const found = [
    ...twoLevelFamilies(factors),
    ...screeningFamilies(factors, stake),
    ...surfaceFamilies(factors, stake),
    ...manyLevelFamilies(factors, stake),
    ...sweepFamilies(factors, stake),
    ...searchedFamilies(question, passes),
  ];
  return found
    .filter(({ size }) => size <= MOST_SIZE)
    .sort((one, other) => one.size - other.size || (one.id < other.id ? -1 : 1));
}

/** Two levels each, so that fractions exist. */
function isTwoLevel(factors: readonly Factor[]): boolean {
  return factors.every((factor) => factor.kind === "quantity" || factor.levels.length === 2);
}

function centreOf(factors: readonly Factor[]): readonly [number, number] {
  return quantitiesOf(factors).length > 0 ? [0, 4] : [0, 0];
}

function twoLevelFamilies(factors: readonly Factor[]): readonly Family[] {
  const count = factors.length;
  const sizes = factors.map((factor) => levelsAtEnds(factor));
  const full: Family = {
    id: "factorial",
    title: factorialTitle(factors),
    layout: { kind: "factorial", ...(ownLevels(factors) ? { levels: 2 } : {}) },
    size: sizes.reduce((product, size) => product * size, 1),
    centre: centreOf(factors),
    replicable: true,
  };
  if (!isTwoLevel(factors) || count < 3) return [full];
  const fractions: Family[] = [];
  for (let bits = Math.max(2, Math.ceil(Math.log2(count + 1))); bits < count; bits += 1) {
    fractions.push({
      id: `fraction-${2 ** bits}`,
      title: fractionTitle(count - bits),
      layout: { kind: "fraction", runs: 2 ** bits },
      size: 2 ** bits,
      centre: centreOf(factors),
      replicable: true,
    });
  }
  return [...fractions, full];
}

function factorialTitle(factors: readonly Factor[]): string {
  const [only] = factors;
  if (factors.length === 1 && only) {
    return only.kind === "category" ? `every level of ${only.name}` : `low and high of ${only.name}`;
  }
  return isTwoLevel(factors) ? "full factorial on two levels" : "full factorial";
}

/** A factorial cuts a quantity's own levels where it has them. */
function levelsAtEnds(factor: Factor): number {
  return factor.kind === "category" ? factor.levels.length : (factor.levels?.length ?? 2);
}

function ownLevels(factors: readonly Factor[]): boolean {
  return factors.some((factor) => factor.kind === "quantity" && factor.levels === undefined);
}

function fractionTitle(times: number): string {
  const words = ["", "half", "quarter", "eighth", "sixteenth"];
  return `${words[times] ?? `1/${2 ** times}`} fraction`;
}

function screeningFamilies(factors: readonly Factor[], stake: Stake): readonly Family[] {
  const count = factors.length;
  if (!isTwoLevel(factors)) return [];
  const found: Family[] = [];
  const least = 4 * Math.ceil((count + 1) / 4);
  if (stake === "which-matter" && count >= 2) {
    for (const runs of [least, least + 4, least + 8]) {
      // Powers of 2 are fractions; those stand in the list already.
      if (Number.isInteger(Math.log2(runs))) continue;
      found.push({
        id: `plackett-burman-${runs}`,
        title: "Plackett–Burman layout",
        layout: { kind: "plackett-burman", runs },
        size: runs,
        centre: centreOf(factors),
        replicable: true,
      });
      if (runs === least || (runs === least + 4 && Number.isInteger(Math.log2(least)))) {
        found.push({
          id: `plackett-burman-${runs}-folded`,
          title: "Plackett–Burman layout with its mirror image",
          layout: { kind: "plackett-burman", runs, foldOver: "all" },
          size: 2 * runs,
          centre: centreOf(factors),
          replicable: true,
        });
      }
    }
  }
  const categories = categoriesOf(factors).length;
  if (count >= 3 && categories < count) {
    for (const extra of [0, 4]) {
      const order = Math.max(4, count + (count % 2) + extra / 2);
      found.push({
        id: extra === 0 ? "definitive-screening" : `definitive-screening-extra-${extra}`,
        title:
          extra === 0
            ? "definitive screening layout"
            : `definitive screening layout with ${extra} extra runs`,
        layout: { kind: "definitive-screening", ...(extra === 0 ? {} : { extra }) },
        size: 2 * order + (categories > 0 ? 2 : 1),
        centre: [0, 0],
        replicable: true,
      });
    }
  }
  return found;
}

function surfaceFamilies(factors: readonly Factor[], stake: Stake): readonly Family[] {
  const count = quantitiesOf(factors).length;
  if ((stake !== "best-setting" && stake !== "how-curved") || count < 2) return [];
  const combined = categoriesOf(factors).reduce((product, factor) => product * factor.levels.length, 1);
  const found: Family[] = [];
  const cubes: readonly (number | "full")[] = count < 5 ? ["full"] : ["full", cubeRuns[count] ?? "full"];
  for (const cube of new Set(cubes)) {
    const corners = cube === "full" ? 2 ** count : cube;
    const inCube = cube === "full" ? "" : ` on a fraction of ${corners} corners`;
    for (const range of ["cube", "axial"] as const) {
      found.push({
        id: `central-composite${cube === "full" ? "" : `-${corners}`}-${range === "cube" ? "face" : "inscribed"}`,
        title: `central composite layout${inCube}, ${range === "cube" ? "axial runs on the faces" : "drawn in so that its axial runs stand at low and high"}`,
        layout: {
          kind: "central-composite",
          ...(cube === "full" ? {} : { cube }),
          ...(range === "cube" ? { axial: "face" } : { axial: "rotatable", range: "axial" }),
        },
        size: (corners + 2 * count) * combined,
        centre: range === "cube" ? [1, 5] : [2, 5],
        replicable: true,
      });
    }
  }
  const table = boxBehnkenTables[count];
  if (table) {
    const runs = table.sets.reduce(
      (sum, set) => sum + (set.length > 4 ? 2 ** (set.length - 1) : 2 ** set.length),
      0,
    );
    found.push({
      id: "box-behnken",
      title: "Box–Behnken layout",
      layout: { kind: "box-behnken" },
      size: runs * combined,
      centre: [1, Math.max(3, table.centrePoints)],
      replicable: true,
    });
  }
  return found;
}

/** Smallest fractions of resolution V, by factors (Box and Hunter, Technometrics 3, 1961, 311–351 and 449–458). */
const cubeRuns: Readonly<Record<number, number>> = {
  5: 16,
  6: 32,
  7: 64,
  8: 64,
  9: 128,
  10: 128,
  11: 128,
  12: 256,
};

function manyLevelFamilies(factors: readonly Factor[], stake: Stake): readonly Family[] {
  const found: Family[] = [];
  const curved = stake === "how-curved" || stake === "best-setting";
  const quantities = quantitiesOf(factors);
  // With one quantity that is a sweep.
  if (curved && factors.length > 1 && quantities.some((factor) => factor.levels === undefined)) {
    found.push({
      id: "factorial-3",
      title: "full factorial on three levels",
      layout: { kind: "factorial", levels: 3 },
      size: factors.reduce(
        (product, factor) =>
          product * (factor.kind === "category" ? factor.levels.length : (factor.levels?.length ?? 3)),
        1,
      ),
      centre: [0, 0],
      replicable: true,
    });
  }
  if (factors.length < 2 || stake === "best-setting" || stake === "how-they-combine") return found;
  const levels = curved ? 3 : 2;
  const counts = factors.map((factor) => factor.levels?.length ?? levels);
  if (counts.some((count) => count > 2)) {
    const wanted = new Map<number, number>();
    for (const count of counts) wanted.set(count, (wanted.get(count) ?? 0) + 1);
    const sizes = [...new Set(arrayPlans.filter((plan) => plan.holds(wanted)).map(({ runs }) => runs))];
    for (const runs of sizes.sort((one, other) => one - other).slice(0, 3)) {
      found.push({
        id: `orthogonal-array-${runs}`,
        title: "orthogonal array",
        layout: { kind: "orthogonal-array", runs, ...(levels === 2 ? {} : { levels }) },
        size: runs,
        centre: [0, 0],
        replicable: true,
      });
    }
  }
  const [first = 0] = counts;
  const square = counts.length <= 4 && first >= 3 && counts.every((count) => count === first);
  if (!curved && square && categoriesOf(factors).length >= 2 && (counts.length === 3 || first !== 6)) {
    if (counts.length >= 3)
      found.push({
        id: "latin-square",
        title: counts.length === 3 ? "Latin square" : "Graeco-Latin square",
        layout: { kind: "latin-square" },
        size: first ** 2,
        centre: [0, 0],
        replicable: true,
      });
  }
  return found;
}

function sweepFamilies(factors: readonly Factor[], stake: Stake): readonly Family[] {
  const [factor] = factors;
  if (factors.length !== 1 || factor?.kind !== "quantity") return [];
  const points = stake === "which-matter" ? [3] : [3, 5, 7];
  const own = factor.levels?.length;
  return (own === undefined ? points : [own]).map((count) => ({
    id: `sweep-${count}`,
    title: `sweep of ${factor.name} over ${count} settings`,
    layout: { kind: "sweep", ...(own === undefined ? { points: count } : {}) },
    size: count,
    centre: [0, 0] as const,
    replicable: true,
  }));
}

/** More columns than this are left to the standard layouts: a search would take longer than a choice may. */
const MOST_SEARCHED = 60;
/** More runs than so many a column are cut as a standard layout, or replicated. */
const MOST_RUNS_A_COLUMN = 2.5;

function searchedFamilies(
  { factors, stake, varianceRatio }: Pick<CheckedQuestion, "factors" | "stake" | "varianceRatio">,
  passes: number,
): readonly Family[] {
  const { terms, columns } = questionTerms(factors, stake);
  if (terms.length === 0 || columns > MOST_SEARCHED || passes < Math.max(2, columns)) return [];
  const predictions = stake === "best-setting";
  const runs = Math.min(passes, Math.floor(MOST_RUNS_A_COLUMN * columns));
  return [
    {
      id: `optimal-${runs}`,
      title: `layout found by search for the ${predictions ? "best predictions" : "narrowest intervals"}`,
      layout: {
        kind: "optimal",
        runs,
        criterion: predictions ? "I" : "D",
        terms,
        starts: startsFor(columns, runs),
        ...(varianceRatio !== undefined && factors.some(({ change }) => change === "hard")
          ? { varianceRatio }
          : {}),
      },
      size: runs,
      centre: [0, 0],
      replicable: false,
    },
  ];
}

/** Fewer starts for larger searches, so that a choice stays quick; the layout can be searched longer afterwards. */
function startsFor(columns: number, runs: number): number {
  return Math.max(1, Math.min(10, Math.floor(4000 / (columns * runs))));
}

/**
 * Runs with which a search answers for certain, without searching: as many as columns tell them apart, and FEWEST_DF more
 * leave enough for error where no product of two factors is left out. Null where nothing can be said beforehand: beyond
 * the largest search, and where set-ups share their scatter.
 */
export function searchedThatAnswers(
  { factors, stake }: { readonly factors: readonly Factor[]; readonly stake: Stake },
  wanted: Exclude<Answers, "no">,
): number | null {
  const { columns } = questionTerms(factors, stake);
  if (columns > MOST_SEARCHED || factors.some(({ change }) => change === "hard")) return null;
  if (wanted === "with-reservation") return Math.max(2, columns);
  const complete = stake === "best-setting" || stake === "how-they-combine" || factors.length === 1;
  return complete ? columns + FEWEST_DF : null;
}
