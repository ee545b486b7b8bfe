import { readFileSync } from "node:fs";
import { fitMixed, observeTable } from "../../src/model/index.ts";
import type { MixedFit, MixedOptions, Term } from "../../src/model/index.ts";

interface Told {
  readonly standardError: number;
  readonly df: number;
}

interface Tested {
  readonly term: string;
  readonly df: number;
  readonly denominatorDf: number;
  readonly f: number;
  readonly p: number;
}

/** One mixed model fitted by R: lme4 for the variances, lmerTest and pbkrtest for degrees of freedom; see `fixtures/mixed/references.R`. */
export interface MixedReference {
  readonly name: string;
  readonly about: string;
  readonly fixed: string;
  readonly sources: string | readonly string[];
  readonly numeric: string | readonly string[];
  readonly columns: Readonly<Record<string, readonly (string | number)[]>>;
  readonly variances: readonly number[];
  readonly deviance: number;
  readonly singular: boolean;
  readonly coefficients: readonly {
    readonly name: string;
    readonly estimate: number;
    readonly satterthwaite: Told;
    readonly kenwardRoger: Told;
  }[];
  readonly satterthwaite: readonly Tested[];
  readonly kenwardRoger: readonly Tested[];
  readonly levels: Readonly<Record<string, Readonly<Record<string, number>>>>;
}

export const mixedReferences = JSON.parse(
  readFileSync(new URL("../fixtures/mixed/references.json", import.meta.url), "utf8"),
) as readonly MixedReference[]; // written by references.R in this shape

/** The columns of a fixture of this folder. */
export function mixedFixture(name: string): Readonly<Record<string, readonly (string | number)[]>> {
  const read = JSON.parse(
    readFileSync(new URL(`../fixtures/mixed/${name}.json`, import.meta.url), "utf8"),
  ) as { columns: Record<string, (string | number)[]> };
  return read.columns;
}

/** The same model by Trycut: terms read from the right side of R's formula. */
export function fittedLike(reference: MixedReference, options: MixedOptions = {}): MixedFit {
  const { columns, fixed, sources, numeric } = reference;
  const names = [sources].flat();
  const numbers = [numeric].flat();
  const right = fixed.split("~")[1].trim();
  const terms = termsIn(right);
  const factors = [...new Set(terms.flatMap((term) => Object.keys(term)))];
  const observations = observeTable(
    { columns: Object.entries(columns).map(([name, values]) => ({ name, unit: "", values })) },
    {
      response: "y",
      factors,
      categories: factors.filter((name) => !numbers.includes(name)),
      random: names,
    },
  );
  return fitMixed(observations, { terms, ...options });
}

function termsIn(right: string): readonly Term[] {
  const written = right.includes("*")
    ? [...right.split("*").map((part) => part.trim()), right.replaceAll(" * ", ":")]
    : right.split("+").map((part) => part.trim());
  return written.map((part) => Object.fromEntries(part.split(":").map((name) => [name, 1])));
}
