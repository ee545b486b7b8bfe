import { extent } from "../../numerics/index.ts";
import type { QuantityFactor, Setting, Trial } from "../../trial/index.ts";
import { formatNumber, listed } from "../../units/index.ts";
import { modelError } from "../error.ts";
import type { Fit } from "../fit.ts";
import type { Piece } from "../recipe.ts";
import { unitText } from "../words.ts";

/** One quantity with every setting that is searched, rising. */
export interface SearchAxis {
  readonly name: string;
  readonly unit: string;
  readonly step: number;
  readonly settings: Float64Array;
}

/** What is searched: a grid of machine settings at every combination of what stands still. */
export interface SearchSpace {
  readonly axes: readonly SearchAxis[];
  /** Settings of every other factor: categories by each of their levels, quantities where they are held. */
  readonly combinations: readonly Readonly<Record<string, Setting>>[];
  readonly notes: readonly string[];
}

export interface SpaceOptions {
  /** Settings to hold; every other quantity of the models is searched, every level of the other categories tried. */
  readonly at?: Readonly<Record<string, Setting>>;
  /** Search a quantity from and to these settings, beyond what was cut; the answer is then marked. */
  readonly beyond?: Readonly<Record<string, Partial<Piece>>>;
}

const mostQuantities = 6;
const mostCombinations = 64;
/** So many steps where the machine's increment is not stated. */
const usualSteps = 40;

/** The grid on which recipes are searched: quantities of the models on the machine's increments, within what was cut for every response. */
export function searchSpace(
  { spec }: Trial,
  fits: readonly Fit[],
  today: Readonly<Record<string, Setting>> | null,
  options: SpaceOptions = {},
): SearchSpace {
  const { at = {}, beyond = {} } = options;
  const inModel = new Set(fits.flatMap(({ terms }) => terms.flatMap((term) => Object.keys(term))));
  for (const name of [...Object.keys(at), ...Object.keys(beyond)]) {
    if (!spec.factors.some((one) => one.name === name))
      throw modelError(
        `the unknown factor "${name}"`,
        `one of ${listed(
          spec.factors.map((one) => one.name),
          "or",
        )}`,
      );
  }
  const notes: string[] = [];
  const axes: SearchAxis[] = [];
  let combinations: Readonly<Record<string, Setting>>[] = [{}];
  for (const factor of spec.factors) {
    const { name } = factor;
    const held = Object.hasOwn(at, name) ? at[name] : undefined;
    if (factor.kind === "category") {
      const levels =
        held !== undefined ? [checkedLevel(factor, held)] : levelsOf(factor, fits, inModel, today);
      combinations = levels.flatMap((level) => combinations.map((one) => ({ ...one, [name]: level })));
      continue;
    }
    const range = cutRange(factor, fits);
    if (held === undefined && inModel.has(name)) {
      axes.push(axisOf(factor, searched(factor, range, beyond[name]), notes));
      continue;
    }
    const setting = held ?? todaysWithin(today?.[name], range) ?? middleOf(factor);
    if (typeof setting !== "number" || !Number.isFinite(setting))
      throw modelError(`${name} held at "${setting}"`, `a number in ${factor.unit}`);
    if (inModel.has(name) && (setting < range.low || setting > range.high) && beyond[name] === undefined)
      throw modelError(
        `${name} held at ${setting}, outside what was cut`,
        `a setting from ${range.low} to ${range.high}${unitText(factor.unit)}`,
      );
    if (held === undefined)
      notes.push(
        `${name} is in none of the models and stands at ${formatNumber(setting, { digits: 4 })}${unitText(factor.unit)}`,
      );
    combinations = combinations.map((one) => ({ ...one, [name]: setting }));
  }
  if (axes.length === 0)
    throw modelError(
      "no quantity to search",
      "a model with a quantity that is not held",
      spec.factors.some(({ kind }) => kind === "quantity")
        ? ""
        : `This trial changed only ${listed(spec.factors.map(({ name }) => name))}: compare levels instead (compareLevels, trycut compare).`,
    );
  if (axes.length > mostQuantities)
    throw modelError(
      `${axes.length} quantities to search`,
      `${mostQuantities} at most`,
      "Hold some with at.",
    );
  if (combinations.length > mostCombinations)
    throw modelError(
      `${combinations.length} combinations of categories`,
      `${mostCombinations} at most`,
      "Fix some of them with at.",
    );
  return { axes, combinations, notes };
}

function checkedLevel(
  { name, levels }: { readonly name: string; readonly levels: readonly string[] },
  level: Setting,
) {
  if (levels.includes(String(level))) return String(level);
  throw modelError(`${name} ${level}`, `one of ${listed(levels, "or")}`);
}

/** Every level that was cut for each response; a category in no model stands as it does today. */
function levelsOf(
  { name, levels }: { readonly name: string; readonly levels: readonly string[] },
  fits: readonly Fit[],
  inModel: ReadonlySet<string>,
  today: Readonly<Record<string, Setting>> | null,
): readonly string[] {
  if (!inModel.has(name)) {
    const stands = today?.[name];
    return [stands !== undefined && levels.includes(String(stands)) ? String(stands) : (levels[0] ?? "")];
  }
  const cut = levels.filter((level) =>
    fits.every(({ rows }) => rows.some(({ settings }) => String(settings[name]) === level)),
  );
  if (cut.length === 0)
    throw modelError(
      `no level of ${name} that was cut for every response`,
      "responses read on the same runs",
    );
  return cut;
}

function cutRange({ name, low, high }: QuantityFactor, fits: readonly Fit[]): Piece {
  let [from, to] = [-Infinity, Infinity];
  for (const { rows } of fits) {
    const settings = rows.map((row) => Number(row.settings[name])).filter(Number.isFinite);
    if (settings.length === 0) continue;
    const [low, high] = extent(settings);
    from = Math.max(from, low);
    to = Math.min(to, high);
  }
  return Number.isFinite(from) && Number.isFinite(to) ? { low: from, high: to } : { low, high };
}

function searched({ name }: QuantityFactor, cut: Piece, beyond: Partial<Piece> | undefined): Piece {
  const { low = cut.low, high = cut.high } = beyond ?? {};
  if (Number.isFinite(low) && Number.isFinite(high) && low < high) return { low, high };
  throw modelError(`a search of ${name} from ${low} to ${high}`, "two finite settings, the lower first");
}

function todaysWithin(setting: Setting | undefined, { low, high }: Piece): Setting | undefined {
  return typeof setting === "number" && setting >= low && setting <= high ? setting : undefined;
}

function middleOf({ low, high, scale }: QuantityFactor): number {
  return scale === "log" && low > 0 ? Math.sqrt(low * high) : (low + high) / 2;
}

function axisOf(factor: QuantityFactor, { low, high }: Piece, notes: string[]): SearchAxis {
  const { name, unit, increment } = factor;
  const step = increment ?? roundStep((high - low) / usualSteps);
  const slack = 1e-9;
  const first = Math.ceil(low / step - slack);
  const last = Math.floor(high / step + slack);
  if (increment === undefined)
    notes.push(
      `no increment is stated for ${name}: steps of ${formatNumber(step)}${unitText(unit)} are taken`,
    );
  if (last < first)
    throw modelError(
      `no multiple of ${step}${unitText(unit)} between ${low} and ${high} of ${name}`,
      "an increment smaller than what was cut",
    );
  if (!(last - first < mostSettings))
    throw modelError(
      `${name} from ${formatNumber(low)} to ${formatNumber(high)}${unitText(unit)} in steps of ${formatNumber(step)}`,
      `at most ${mostSettings} settings`,
      "State a larger increment, or mend the settings.",
    );
  const settings = Float64Array.from({ length: last - first + 1 }, (_, k) =>
    Number(((first + k) * step).toPrecision(12)),
  );
  return { name, unit, step, settings };
}

/** More settings of one quantity than these are no machine's. */
const mostSettings = 1_000_000;

/** The next of 1, 2 and 5 times a power of ten below. */
function roundStep(step: number): number {
  const power = 10 ** Math.floor(Math.log10(step));
  const lead = step / power;
  return Number(((lead >= 5 ? 5 : lead >= 2 ? 2 : 1) * power).toPrecision(12));
}
