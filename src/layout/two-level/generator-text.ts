import { listed } from "../../units/index.ts";
import { LayoutError } from "../error.ts";

/** A generated factor, the places of the factors whose product it is, and the sign. */
export interface Generator {
  readonly factor: number;
  readonly product: readonly number[];
  readonly sign: 1 | -1;
}

/**
 * Reads generators as people write them: "D = ABC", "D=-A*B*C", "coolant = feed × speed". Names are those of the factors;
 * where a one-letter word is no factor's name, A is the first factor, B the second, and so on (I, which stands for the mean,
 * is left out). Refuses unknown names, a factor generated twice or from itself, and a factor generated from a generated one.
 */
export function readGenerators(texts: readonly string[], names: readonly string[]): readonly Generator[] {
  if (texts.length > names.length - 2) {
    throw new LayoutError(
      `layout.generators: ${texts.length} generators for ${names.length} factors leave fewer than two basic factors. Give at most ${names.length - 2}.`,
    );
  }
  const generators = texts.map((text, index) =>
    readGenerator(text, names, names.length - texts.length + index),
  );
  const made = generators.map((generator) => generator.factor);
  const basic = names.filter((_, place) => !made.includes(place));
  const contradiction = (text: string, why: string) =>
    new LayoutError(
      `layout.generators: "${text}" can't stand: ${why}. Give each generated factor its own product of two or more basic factors (here ${listed(basic)}).`,
    );
  generators.forEach(({ factor, product }, index) => {
    const text = texts[index] ?? "";
    const name = names[factor] ?? "";
    if (made.indexOf(factor) !== index) throw contradiction(text, `${name} has a generator already`);
    const generated = product.find((place) => made.includes(place));
    if (generated !== undefined) {
      throw contradiction(
        text,
        generated === factor
          ? `${name} can't be made from itself`
          : `${names[generated]} is generated itself`,
      );
    }
    if (product.length === 0) throw contradiction(text, `${name} would never change`);
    if (product.length < 2)
      throw contradiction(text, `${name} would always move with ${names[product[0] ?? 0]}`);
    const same = generators.findIndex(
      (other, place) => place < index && other.product.join() === product.join(),
    );
    if (same >= 0) throw contradiction(text, `${name} would always move with ${names[made[same] ?? 0]}`);
  });
  return generators;
}

function readGenerator(text: string, names: readonly string[], defaultFactor: number): Generator {
  const halves = text.split("=");
  if (halves.length > 2) throw unreadable(text, names);
  const [left, right] = halves.length === 2 ? halves : [undefined, halves[0]];
  const factor = left === undefined ? defaultFactor : placesOf(left.trim(), names)?.[0];
  const negative = /^\s*[-−–]/.test(right ?? "");
  const product = placesOf((right ?? "").replace(/^\s*[-−–+]/, "").trim(), names);
  if (
    factor === undefined ||
    product === undefined ||
    (left !== undefined && placesOf(left.trim(), names)?.length !== 1)
  ) {
    throw unreadable(text, names);
  }
  // A factor squared is the mean, so that a name met twice falls out.
  const odd = [...new Set(product)].filter(
    (place) => product.filter((other) => other === place).length % 2 === 1,
  );
  return { factor, product: odd.sort((one, other) => one - other), sign: negative ? -1 : 1 };
}

function unreadable(text: string, names: readonly string[]): LayoutError {
  return new LayoutError(
    `layout.generators: "${text}" can't be read. Write "${names[names.length - 1]} = ${names.slice(0, 3).join(" × ")}"; the factors are ${listed(names)}.`,
  );
}

const LETTERS = "ABCDEFGHJKLMNOPQRSTUVWXYZ";

/** The factors that a product names: parted by × * · or spaces, or written together. */
function placesOf(text: string, names: readonly string[]): readonly number[] | undefined {
  if (text === "") return undefined;
  const whole = names.indexOf(text);
  if (whole >= 0) return [whole];
  const words = text.split(/\s*[×*·:]\s*/).filter((word) => word !== "");
  if (words.length > 1) return joined(words.map((word) => placesOf(word.trim(), names)));
  const together = segmented(text.replace(/\s+/g, " "), names);
  if (together) return together;
  const letters = [...text.replace(/\s+/g, "")].map((letter) => LETTERS.indexOf(letter.toUpperCase()));
  return letters.every((place) => place >= 0 && place < names.length) ? letters : undefined;
}

function joined(parts: readonly (readonly number[] | undefined)[]): readonly number[] | undefined {
  return parts.every((part) => part !== undefined) ? parts.flat() : undefined;
}

/** Names written together, "ABC" for A, B and C; longer names are tried first. */
function segmented(text: string, names: readonly string[]): readonly number[] | undefined {
  if (text.trim() === "") return [];
  const rest = text.trimStart();
  const fitting = names
    .map((name, place) => ({ name, place }))
    .filter(({ name }) => rest.startsWith(name))
    .sort((one, other) => other.name.length - one.name.length);
  for (const { name, place } of fitting) {
    const after = segmented(rest.slice(name.length), names);
    if (after) return [place, ...after];
  }
  return undefined;
}
