/** The finite field of q elements, q a prime power: elements are 0 … q − 1, 0 and 1 as usual. */
export interface GaloisField {
  readonly size: number;
  readonly add: (one: number, other: number) => number;
  readonly subtract: (one: number, other: number) => number;
  readonly multiply: (one: number, other: number) => number;
}

/** p and m where q = p^m; undefined where q is no prime power. */
export function primePower(size: number): { readonly prime: number; readonly power: number } | undefined {
  for (let prime = 2; prime <= size; prime += 1) {
    if (size % prime !== 0) continue;
    let [rest, power] = [size, 0];
    while (rest % prime === 0) [rest, power] = [rest / prime, power + 1];
    return rest === 1 ? { prime, power } : undefined;
  }
  return undefined;
}

/**
 * Elements are polynomials over the integers modulo p, written as base-p digits; products are reduced by the first
 * irreducible polynomial found. Refuses a size that is no prime power.
 */
export function galoisField(size: number): GaloisField {
  const found = primePower(size);
  if (!found) throw new RangeError(`no field has ${size} elements: it is not a prime power`);
  const { prime, power } = found;
  const digits = (element: number) =>
    Array.from({ length: power }, (_, place) => Math.floor(element / prime ** place) % prime);
  const number = (list: readonly number[]) =>
    list.reduce((sum, digit, place) => sum + digit * prime ** place, 0);
  const combine = (sign: number) => (one: number, other: number) => {
    const b = digits(other);
    return number(digits(one).map((digit, place) => (digit + sign * (b[place] ?? 0) + prime) % prime));
  };
  const reducer = irreducible(prime, power);
  const table = Array.from({ length: size }, (_, one) =>
    Uint16Array.from({ length: size }, (_unused, other) =>
      number(reduced(digits(one), digits(other), reducer, prime)),
    ),
  );
  return {
    size,
    add: combine(1),
    subtract: combine(-1),
    multiply: (one, other) => table[one]?.[other] ?? 0,
  };
}

/** Product of two polynomials, low digit first, reduced by a monic one of which only the low digits are given. */
function reduced(
  one: readonly number[],
  other: readonly number[],
  reducer: readonly number[],
  prime: number,
): readonly number[] {
  const power = reducer.length;
  const product = new Array<number>(2 * power).fill(0);
  one.forEach((a, i) => other.forEach((b, j) => (product[i + j] = ((product[i + j] ?? 0) + a * b) % prime)));
  for (let place = 2 * power - 1; place >= power; place -= 1) {
    const lead = product[place] ?? 0;
    reducer.forEach((digit, low) => {
      const at = place - power + low;
      product[at] = ((((product[at] ?? 0) - lead * digit) % prime) + prime) % prime;
    });
    product[place] = 0;
  }
  return product.slice(0, power);
}

/** Low digits of a monic polynomial of that degree without factors: no product of two lower ones equals it. */
function irreducible(prime: number, power: number): readonly number[] {
  const polynomials = (degree: number) =>
    Array.from({ length: prime ** degree }, (_, code) => [
      ...Array.from({ length: degree }, (_unused, place) => Math.floor(code / prime ** place) % prime),
      1,
    ]);
  const composite = new Set<string>();
  for (let degree = 1; degree <= power / 2; degree += 1) {
    for (const one of polynomials(degree)) {
      for (const other of polynomials(power - degree)) {
        const product = new Array<number>(power + 1).fill(0);
        one.forEach((a, i) =>
          other.forEach((b, j) => (product[i + j] = ((product[i + j] ?? 0) + a * b) % prime)),
        );
        composite.add(product.join());
      }
    }
  }
  const found = polynomials(power).find((candidate) => !composite.has(candidate.join()));
  return (found ?? [0, 1]).slice(0, power);
}

/** +1 for a square other than 0, −1 for a non-square, 0 for 0. */
export function quadraticCharacter(field: GaloisField): readonly number[] {
  const character = new Array<number>(field.size).fill(-1);
  character[0] = 0;
  for (let element = 1; element < field.size; element += 1) character[field.multiply(element, element)] = 1;
  return character;
}
