import { termKey, type Term } from "../../model/index.ts";
import type { Factor, Settings } from "../../trial/index.ts";
import { codedSetting } from "../levels.ts";
import type { ToldModel } from "./told.ts";

/** What a term that is left out of the model does to one that is in it. */
export interface BiasEntry {
  readonly term: Term;
  readonly label: string;
  /** In words: the term left out. */
  readonly omitted: string;
  /** The effect of `label` (low to high) is moved by this share of the effect of `omitted`. */
  readonly share: number;
  /** By how much, in the response's unit, were the omitted effect as large as the stated one; null where none is stated. */
  readonly shift: number | null;
}

/** More terms than this are not looked at by themselves: the list would be of no use. */
const MOST_OMITTED = 300;
/** Shares below this are rounding. */
const ROUNDING = 1e-9;

/**
 * The terms of the next order that a model leaves out: products of two factors and squares that are not in it; where it has all
 * of those, products of three.
 */
export function termsLeftOut(factors: readonly Factor[], terms: readonly Term[]): readonly Term[] {
  const inside = new Set(terms.map(termKey));
  const names = factors.map(({ name }) => name);
  const second = [
    ...names.flatMap((one, place) => names.slice(place + 1).map((other): Term => ({ [one]: 1, [other]: 1 }))),
    ...factors.flatMap(({ kind, name }): Term[] => (kind === "quantity" ? [{ [name]: 2 }] : [])),
  ].filter((term) => !inside.has(termKey(term)));
  if (second.length > 0) return second.slice(0, MOST_OMITTED);
  const third = names.flatMap((one, place) =>
    names
      .slice(place + 1)
      .flatMap((other, next) =>
        names.slice(place + next + 2).map((last): Term => ({ [one]: 1, [other]: 1, [last]: 1 })),
      ),
  );
  return third.filter((term) => !inside.has(termKey(term))).slice(0, MOST_OMITTED);
}

/**
 * Bias of each effect in the model by each term left out: the alias matrix (X′V⁻¹X)⁻¹X′V⁻¹Z, taken to effects. An omitted level
 * of a category stands against all its other levels. A term that never moves in the runs biases only the mean and is left out.
 */
export function biasesOf(
  told: ToldModel,
  factors: readonly Factor[],
  settings: readonly Settings[],
  options: { readonly omitted: readonly Term[]; readonly effect: number | null },
): readonly BiasEntry[] {
  const { model, along, information, scatter } = told;
  const coded = codedFactors(factors, settings);
  return options.omitted.flatMap((term) =>
    omittedColumns(coded, term, settings.length).flatMap(({ label: omitted, column }) => {
      const whitened = scatter.whitened(column);
      const onUnits = information.orthogonal.map((unit) => {
        let sum = 0;
        for (let row = 0; row < unit.length; row += 1) sum += (unit[row] ?? 0) * (whitened[row] ?? 0);
        return sum;
      });
      return model.estimands.flatMap(({ term: own, label }, place): BiasEntry[] => {
        const vector = along[place];
        if (!vector) return [];
        let share = 0;
        for (let index = 0; index < onUnits.length; index += 1)
          share += (vector[index] ?? 0) * (onUnits[index] ?? 0);
        if (Math.abs(share) < ROUNDING) return [];
        const shift = options.effect === null ? null : share * options.effect;
        return [{ term: own, label, omitted, share, shift }];
      });
    }),
  );
}

interface OmittedColumn {
  readonly label: string;
  readonly column: Float64Array;
}

/** For each factor: its coded column, or for a category one a level (+1 there, −1 elsewhere) but the first. */
function codedFactors(
  factors: readonly Factor[],
  settings: readonly Settings[],
): ReadonlyMap<string, readonly OmittedColumn[]> {
  return new Map(
    factors.map((factor) => [
      factor.name,
      factor.kind === "quantity"
        ? [
            {
              label: factor.name,
              column: Float64Array.from(settings, (setting) => codedSetting(factor, setting[factor.name])),
            },
          ]
        : factor.levels.slice(1).map((level) => ({
            label: factor.levels.length === 2 ? factor.name : `${factor.name} ${level}`,
            column: Float64Array.from(settings, (setting) => (setting[factor.name] === level ? 1 : -1)),
          })),
    ]),
  );
}

const RAISED = ["", "", "²", "³", "⁴"];

function omittedColumns(
  coded: ReadonlyMap<string, readonly OmittedColumn[]>,
  term: Term,
  rows: number,
): readonly OmittedColumn[] {
  let columns: readonly OmittedColumn[] = [{ label: "", column: new Float64Array(rows).fill(1) }];
  for (const [name, degree] of Object.entries(term)) {
    columns = columns.flatMap((before) =>
      (coded.get(name) ?? []).map(({ label, column }) => ({
        label: `${before.label === "" ? "" : `${before.label} × `}${label}${RAISED[degree] ?? `^${degree}`}`,
        column: before.column.map((value, row) => value * (column[row] ?? 0) ** degree),
      })),
    );
  }
  return columns.filter(({ column }) => column.some((value) => Math.abs(value - (column[0] ?? 0)) > 1e-12));
}

/** Of each estimand the entry with the largest share. */
export function worstBiases(biases: readonly BiasEntry[]): ReadonlyMap<string, BiasEntry> {
  const worst = new Map<string, BiasEntry>();
  for (const bias of biases) {
    const before = worst.get(bias.label);
    if (!before || Math.abs(bias.share) > Math.abs(before.share) + ROUNDING) worst.set(bias.label, bias);
  }
  return worst;
}
