import { readFileSync } from "node:fs";
import { observeTable, type Observations } from "../../../src/model/index.ts";

interface PairByR {
  readonly from: string;
  readonly to: string;
  readonly difference: number;
  readonly low: number;
  readonly high: number;
  readonly p: number;
}

/** One-way data with what base R makes of them; see comparisons.R beside the fixture. */
export interface OneWayByR {
  readonly name: string;
  readonly control: string;
  readonly group: readonly string[];
  readonly value: readonly number[];
  readonly tukey: readonly PairByR[];
  readonly dunnett: readonly Pick<PairByR, "from" | "to" | "difference" | "p">[];
  readonly gamesHowell: readonly PairByR[];
  readonly wilcoxon: readonly (Omit<PairByR, "difference"> & { readonly shift: number })[];
  readonly holm: readonly Pick<PairByR, "from" | "to" | "p">[];
  readonly kruskal: { readonly statistic: number; readonly p: number };
  readonly welch: { readonly statistic: number; readonly df: number; readonly p: number };
  readonly bartlett: { readonly statistic: number; readonly p: number };
  readonly medians: { readonly f: number; readonly p: number };
}

export interface ComparisonsByR {
  readonly oneWay: readonly OneWayByR[];
  readonly twoFactors: {
    readonly wool: readonly string[];
    readonly tension: readonly string[];
    readonly value: readonly number[];
    readonly tukey: readonly PairByR[];
  };
  readonly blocks: Readonly<Record<"block" | "N" | "P" | "K", readonly string[]>> & {
    readonly value: readonly number[];
    readonly tukey: readonly PairByR[];
  };
  readonly unbalanced: {
    readonly wool: readonly string[];
    readonly tension: readonly string[];
    readonly value: readonly number[];
    readonly df: number;
    readonly difference: readonly number[];
    readonly standardError: readonly number[];
    readonly reach: number;
    readonly p: readonly number[];
  };
}

/** The fixture. */
export function comparisonsByR(): ComparisonsByR {
  const file = new URL("../../fixtures/comparisons/comparisons.json", import.meta.url);
  // The fixture is the project's own and has this shape.
  return JSON.parse(readFileSync(file, "utf8")) as ComparisonsByR;
}

/** Observations of columns of names and one of values. */
export function tableOf(
  names: Readonly<Record<string, readonly string[]>>,
  value: readonly number[],
  options: { readonly block?: string; readonly log?: boolean } = {},
): Observations {
  const factors = Object.keys(names).filter((name) => name !== options.block);
  return observeTable(
    {
      columns: [
        ...Object.entries(names).map(([name, values]) => ({ name, unit: "", values })),
        { name: "Ra", unit: "µm", values: value },
      ],
    },
    { response: "Ra", factors, categories: factors, ...options },
  );
}
