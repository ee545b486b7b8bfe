import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { xoroshiro128plusFromState } from "pure-rand/generator/xoroshiro128plus";
import { numericsError } from "./error.ts";

/** A stream of chance that a seed fixes for good. It moves on with every draw; hand it on as an argument. */
export interface SeededRandom {
  /** Evenly from [0, 1), a multiple of 2⁻⁵³. */
  readonly next: () => number;
  /** Evenly from 0, 1, …, n − 1, without bias; n from 1 to 2⁵³. */
  readonly integer: (n: number) => number;
  /** From the normal distribution of mean 0 and standard deviation 1. */
  readonly normal: () => number;
  /** The items in random order, every order equally likely; a new array. */
  readonly shuffle: <Item>(items: readonly Item[]) => Item[];
}

/**
 * Chance from a seed that can be written in a file: the same seed gives the same draws on every machine and in every later version.
 *
 * The algorithm is part of that promise: SplitMix32 on the seed's low and high half makes the state of a xoroshiro128+ generator (Blackman and Vigna 2018; by
 * pure-rand); two of its words, the first's upper 27 and the second's upper 26 bits, make one number u of 53 bits. `next` is u·2⁻⁵³; `integer(n)` is
 * ⌊u / ⌊2⁵³/n⌋⌋, drawn anew while it is n or more; `normal` is the normal quantile at (u + ½)·2⁻⁵³; `shuffle` is Fisher and Yates from the last place down.
 *
 * `seed` is a whole number from 0 to 2⁵³ − 1. `stream` (0 by default) jumps ahead by 2⁶⁴ words that many times: draws for workers that never overlap.
 *
 * @example
 * seededRandom(20261125).integer(6); // 4
 */
export function seededRandom(seed: number, options: { readonly stream?: number } = {}): SeededRandom {
  const { stream = 0 } = options;
  requireWhole("the seed", seed, 0, Number.MAX_SAFE_INTEGER);
  requireWhole("the stream", stream, 0, 1_000_000);
  const generator = xoroshiro128plusFromState(stateFrom(seed));
  for (let k = 0; k < stream; k++) generator.jump();
  const bits = (): number => {
    const first = generator.next() >>> 5;
    return first * 2 ** 26 + (generator.next() >>> 6);
  };
  const integer = (n: number): number => {
    requireWhole("n", n, 1, 2 ** 53);
    const share = Math.floor(2 ** 53 / n);
    for (;;) {
      const drawn = Math.floor(bits() / share);
      if (drawn < n) return drawn;
    }
  };
  return {
    next: () => bits() * 2 ** -53,
    integer,
    // At least 2⁻⁵⁴ from 0 and 1, so always finite; the largest sizes are 8.3 and, as 1 − 2⁻⁵⁴ rounds to 1, are reached from the lower side.
    normal: () => {
      const u = bits();
      return u < 2 ** 52
        ? normalQuantile((u + 0.5) * 2 ** -53, 0, 1)
        : -normalQuantile((2 ** 53 - u - 0.5) * 2 ** -53, 0, 1);
    },
    shuffle: (items) => {
      const shuffled = [...items];
      for (let last = shuffled.length - 1; last > 0; last--) {
        const chosen = integer(last + 1);
        [shuffled[last], shuffled[chosen]] = [shuffled[chosen], shuffled[last]];
      }
      return shuffled;
    },
  };
}

/** Four words that differ in half their bits for seeds that differ in one; never all 0. */
function stateFrom(seed: number): number[] {
  const low = seed >>> 0;
  const high = Math.floor(seed / 2 ** 32) >>> 0;
  let counter = mixed(low) ^ mixed(high ^ 0x9e3779b9);
  return [0, 1, 2, 3].map((place) => {
    counter = (counter + 0x9e3779b9) | 0;
    return mixed(counter ^ (place < 2 ? low : high)) | (place === 0 ? 1 : 0);
  });
}

/** The finisher of SplitMix32, a one-to-one scramble of 32 bits. */
function mixed(word: number): number {
  let z = word | 0;
  z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
  z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
  return z ^ (z >>> 15);
}

function requireWhole(name: string, value: number, least: number, most: number): void {
  if (!Number.isInteger(value) || value < least || value > most)
    throw numericsError(`${name} is ${value}`, `a whole number from ${least} to ${most}`);
}
