import { listed } from "../units/index.ts";
import { modelError } from "./error.ts";
import type { Observation, ObservedBlocks, ObservedFactor } from "./observations.ts";
import type { Term } from "./term.ts";

/**
 * What columns are built from: a quantity (or its logarithm), or the 0-or-1 of one level of a category or block. A column of the
 * fit is a product of powers of these, each less its `centre`; coefficients are told for the same products of
 * (value − `tellCentre`) / `tellScale`.
 */
export interface Elementary {
  /** Place in the factors; −1 for the blocks. */
  readonly factor: number;
  readonly name: string;
  /** The level that is 1; undefined for a quantity. */
  readonly level: string | undefined;
  readonly reference: string;
  readonly logarithm: boolean;
  readonly centre: number;
  readonly tellCentre: number;
  readonly tellScale: number;
  /** The value in the middle: half-way between the ends of a quantity, 1 / levels for a level. */
  readonly middle: number;
}

export interface Part {
  readonly elementary: number;
  readonly degree: number;
}

export interface ModelColumn {
  readonly parts: readonly Part[];
  readonly source: number;
}

/** One line of the analysis: a term with all of its columns. */
export interface Source {
  readonly term: Term;
  readonly label: string;
  readonly columns: readonly number[];
  readonly role: "intercept" | "block" | "term";
}

export interface Design {
  readonly elementaries: readonly Elementary[];
  readonly columns: readonly ModelColumn[];
  readonly sources: readonly Source[];
  readonly factors: readonly ObservedFactor[];
}

export interface DesignOptions {
  /** Scale on which coefficients are told. */
  readonly tell: "natural" | "coded";
  /** True takes the logarithm of every quantity. */
  readonly logarithms: boolean;
  /** Blocks to be fitted, at their own level each. */
  readonly blocks: ObservedBlocks | undefined;
}

/**
 * The columns of a model, in the order of its terms; blocks stand right after the intercept. A category is coded by its levels
 * against the first. Centres are the middles of the ranges (and 1 / levels), so that products are as little alike as can be.
 */
export function designOf(
  factors: readonly ObservedFactor[],
  terms: readonly Term[],
  options: DesignOptions,
): Design {
  const elementaries: Elementary[] = [];
  const used = new Set(terms.flatMap((term) => Object.keys(term)));
  const ofFactor = factors.map((factor, index) => {
    const made =
      factor.kind === "quantity"
        ? [quantity(factor, index, { ...options, logarithms: options.logarithms && used.has(factor.name) })]
        : levels(factor.name, factor.levels, index);
    return made.map((elementary) => elementaries.push(elementary) - 1);
  });
  const columns: ModelColumn[] = [];
  const sources: Source[] = [];
  const add = (
    term: Term,
    label: string,
    role: Source["role"],
    products: readonly (readonly Part[])[],
  ): void => {
    const places = products.map((parts) => columns.push({ parts, source: sources.length }) - 1);
    sources.push({ term, label, columns: places, role });
  };
  for (const term of terms) {
    const names = Object.keys(term);
    let products: readonly (readonly Part[])[] = [[]];
    for (const [name, degree] of Object.entries(term)) {
      const own = ofFactor[factors.findIndex((factor) => factor.name === name)];
      products = own.flatMap((elementary) => products.map((parts) => [...parts, { elementary, degree }]));
    }
    add(term, termLabel(term), names.length === 0 ? "intercept" : "term", products);
    if (names.length === 0 && options.blocks !== undefined) {
      const { name, levels: blockLevels } = options.blocks;
      // Centred when told, so that the intercept is the mean over the blocks: no run of the next trial will be in block 1.
      const made = levels(name, blockLevels, -1).map((level) => ({ ...level, tellCentre: level.centre }));
      const places = made.map((elementary) => elementaries.push(elementary) - 1);
      add(
        { [name]: 1 },
        name,
        "block",
        places.map((elementary) => [{ elementary, degree: 1 }]),
      );
    }
  }
  return { elementaries, columns, sources, factors };
}

/** A term in words: "feed × speed", "feed²", "edge"; "intercept" for the constant. */
export function termLabel(term: Term): string {
  const parts = Object.entries(term).map(([name, degree]) => name + superscript(degree));
  return parts.length === 0 ? "intercept" : parts.join(" × ");
}

/** A column as the term of its coefficient: `{ "edge=used": 1, feed: 1 }`. */
export function columnTerm({ elementaries }: Design, column: ModelColumn): Term {
  const entries = column.parts.map(({ elementary, degree }): [string, number] => {
    const { name, level } = elementaries[elementary];
    return [level === undefined ? name : `${name}=${level}`, degree];
  });
  return Object.fromEntries(entries);
}

/** A column in words: "edge used against fresh" by itself, "feed × edge used" in a product. */
export function columnLabel({ elementaries }: Design, column: ModelColumn): string {
  if (column.parts.length === 0) return "intercept";
  const alone = column.parts.length === 1;
  return column.parts
    .map(({ elementary, degree }) => {
      const { name, level, reference } = elementaries[elementary];
      if (level === undefined) return name + superscript(degree);
      return alone ? `${name} ${level} against ${reference}` : `${name} ${level}`;
    })
    .join(" × ");
}

/** The value that one row has for an elementary column, before centring. Refuses a setting of the wrong kind, named with its run. */
export function elementaryValue(
  elementary: Elementary,
  row: Observation,
  factors: readonly ObservedFactor[],
  blocks: ObservedBlocks | undefined,
): number {
  if (elementary.factor < 0) return blocks!.levels[row.block - 1] === elementary.level ? 1 : 0;
  const factor = factors[elementary.factor];
  const setting = row.settings[factor.name];
  if (elementary.level !== undefined) {
    if (typeof setting === "string" && factor.levels.includes(setting))
      return setting === elementary.level ? 1 : 0;
    throw modelError(
      `run ${row.run}: ${factor.name} ${JSON.stringify(setting) ?? "left out"}`,
      `one of ${listed(factor.levels, "or")}`,
    );
  }
  return quantityValue(elementary, setting, `run ${row.run}`);
}

/** A number, or its logarithm in a power law. Refuses what is neither finite nor (for a logarithm) above zero. */
export function quantityValue(elementary: Elementary, setting: unknown, where: string): number {
  if (typeof setting !== "number" || !Number.isFinite(setting)) {
    throw modelError(
      `${where}: ${elementary.name} ${JSON.stringify(setting) ?? "left out"}`,
      "a finite number",
    );
  }
  if (!elementary.logarithm) return setting;
  if (setting <= 0) {
    throw modelError(
      `${where}: ${elementary.name} ${setting} in a power law`,
      "settings above zero",
      "Fit a linear model instead.",
    );
  }
  return Math.log(setting);
}

function quantity(factor: ObservedFactor, index: number, { tell, logarithms }: DesignOptions): Elementary {
  const [low, high] = logarithms ? [Math.log(factor.low), Math.log(factor.high)] : [factor.low, factor.high];
  if (logarithms && !(factor.low > 0)) {
    throw modelError(
      `${factor.name} from ${factor.low} in a power law`,
      "settings above zero",
      "Fit a linear model instead.",
    );
  }
  const centre = low / 2 + high / 2;
  const half = high / 2 - low / 2;
  return {
    factor: index,
    name: factor.name,
    level: undefined,
    reference: "",
    logarithm: logarithms,
    centre,
    tellCentre: tell === "coded" ? centre : 0,
    // A factor that never moved has no half range; its column is left out as one that can't be told.
    tellScale: tell === "coded" && half > 0 ? half : 1,
    middle: factor.scale === "log" && !logarithms && low > 0 ? Math.sqrt(low) * Math.sqrt(high) : centre,
  };
}

function levels(name: string, all: readonly string[], factor: number): readonly Elementary[] {
  const share = 1 / all.length;
  return all.slice(1).map((level) => ({
    factor,
    name,
    level,
    reference: all[0],
    logarithm: false,
    centre: share,
    tellCentre: 0,
    tellScale: 1,
    middle: share,
  }));
}

const superscripts = "⁰¹²³⁴⁵⁶⁷⁸⁹";

function superscript(degree: number): string {
  return degree === 1 ? "" : [...String(degree)].map((digit) => superscripts[Number(digit)]).join("");
}
