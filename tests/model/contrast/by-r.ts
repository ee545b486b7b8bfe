import { readFileSync } from "node:fs";
import { observeTable, type Term } from "../../../src/model/index.ts";

export interface ByR {
  readonly estimate: number;
  readonly standardError: number;
  readonly df: number;
  readonly p: number;
  readonly low?: number;
  readonly high?: number;
}

/** See contrasts.R beside the fixture; the fixture is the project's own and has this shape. */
export const byR = JSON.parse(
  readFileSync(new URL("../../fixtures/contrast/contrasts.json", import.meta.url), "utf8"),
) as {
  readonly columns: Readonly<Record<string, readonly (number | string)[]>>;
  readonly linear: Readonly<Record<"both" | "feedOverEdges" | "at90", ByR>>;
  readonly law: Readonly<Record<"both" | "edgeAtMiddle", ByR>>;
  readonly weighted: ByR;
  readonly oats: Readonly<
    Record<"within" | "across" | "whole", Readonly<Record<"satterthwaite" | "kenwardRoger", ByR>>>
  > & { readonly kinds: readonly string[] };
};

const units: Readonly<Record<string, string>> = { feed: "mm/rev", speed: "m/min", Ra: "µm" };
export const table = (columns: Readonly<Record<string, readonly (number | string)[]>>) => ({
  columns: Object.entries(columns).map(([name, values]) => ({ name, unit: units[name] ?? "", values })),
});
export const { weight, day, ...undated } = byR.columns;
export const observed = (block?: "day") =>
  observeTable(table(block === undefined ? undated : { ...undated, day }), {
    response: "Ra",
    factors: ["feed", "speed", "edge"],
    ...(block === undefined ? {} : { block }),
  });
export const products: readonly Term[] = [
  { feed: 1 },
  { edge: 1 },
  { speed: 1 },
  { feed: 2 },
  { feed: 1, edge: 1 },
];

/** (X′X)⁻¹ by Gauss and Jordan with pivoting. */
export function inverted(rows: readonly (readonly number[])[]): number[][] {
  const size = rows[0].length;
  const left = Array.from({ length: size }, (_, i) => [
    ...Array.from({ length: size }, (__, j) => rows.reduce((sum, row) => sum + row[i] * row[j], 0)),
    ...Array.from({ length: size }, (__, j) => (i === j ? 1 : 0)),
  ]);
  for (let column = 0; column < size; column++) {
    let best = column;
    for (let i = column; i < size; i++)
      if (Math.abs(left[i][column]) > Math.abs(left[best][column])) best = i;
    [left[column], left[best]] = [left[best], left[column]];
    const pivot = left[column][column];
    left[column] = left[column].map((value) => value / pivot);
    for (let i = 0; i < size; i++) {
      const times = left[i][column];
      if (i !== column) left[i] = left[i].map((value, j) => value - times * left[column][j]);
    }
  }
  return left.map((line) => line.slice(size));
}
