/**
 * A number that hangs on a few parameters, with its exact first and second derivatives: entry 0 the value, 1 + i the derivative by parameter i,
 * `second(i, j)` that by i and j. Arithmetic on them is the chain rule, so nothing is approximated by differences.
 */
export interface JetShape {
  readonly parameters: number;
  /** Entries of one jet. */
  readonly size: number;
  /** Pairs i ≤ j in the order of their entries. */
  readonly pairs: readonly (readonly [number, number])[];
  readonly second: (i: number, j: number) => number;
}

export function jetShape(parameters: number): JetShape {
  const pairs: [number, number][] = [];
  for (let i = 0; i < parameters; i++) for (let j = i; j < parameters; j++) pairs.push([i, j]);
  const second = (i: number, j: number): number => {
    const [low, high] = i < j ? [i, j] : [j, i];
    return 1 + parameters + low * parameters - (low * (low - 1)) / 2 + (high - low);
  };
  return { parameters, size: 1 + parameters + pairs.length, pairs, second };
}

export function product(shape: JetShape, a: Float64Array, b: Float64Array): Float64Array {
  const { parameters, size, pairs } = shape;
  const out = new Float64Array(size);
  out[0] = a[0] * b[0];
  for (let i = 1; i <= parameters; i++) out[i] = a[i] * b[0] + a[0] * b[i];
  for (let k = 0; k < pairs.length; k++) {
    const [i, j] = pairs[k];
    const at = 1 + parameters + k;
    out[at] = a[at] * b[0] + a[1 + i] * b[1 + j] + a[1 + j] * b[1 + i] + a[0] * b[at];
  }
  return out;
}

export function reciprocal(shape: JetShape, a: Float64Array): Float64Array {
  const { parameters, size, pairs } = shape;
  const out = new Float64Array(size);
  const r = 1 / a[0];
  out[0] = r;
  for (let i = 1; i <= parameters; i++) out[i] = -a[i] * r * r;
  for (let k = 0; k < pairs.length; k++) {
    const [i, j] = pairs[k];
    const at = 1 + parameters + k;
    out[at] = (2 * a[1 + i] * a[1 + j] * r - a[at]) * r * r;
  }
  return out;
}

/** total += log a. */
export function addLogarithm(shape: JetShape, total: Float64Array, a: Float64Array): void {
  const { parameters, pairs } = shape;
  const r = 1 / a[0];
  total[0] += Math.log(a[0]);
  for (let i = 1; i <= parameters; i++) total[i] += a[i] * r;
  for (let k = 0; k < pairs.length; k++) {
    const [i, j] = pairs[k];
    const at = 1 + parameters + k;
    total[at] += (a[at] - a[1 + i] * a[1 + j] * r) * r;
  }
}

/** The parameter itself as a jet. */
export function parameterJet(shape: JetShape, parameter: number, value: number): Float64Array {
  const out = new Float64Array(shape.size);
  out[0] = value;
  out[1 + parameter] = 1;
  return out;
}

/** The factor that multiplies a vector of jets, entry by entry: out = factor · vector, each laid out jet by jet with `length` entries. */
export function scaled(
  shape: JetShape,
  factor: Float64Array,
  vector: Float64Array,
  length: number,
): Float64Array {
  const { parameters, size, pairs } = shape;
  const out = new Float64Array(size * length);
  for (let e = 0; e < length; e++) {
    out[e] = factor[0] * vector[e];
    for (let i = 1; i <= parameters; i++)
      out[i * length + e] = factor[i] * vector[e] + factor[0] * vector[i * length + e];
  }
  for (let k = 0; k < pairs.length; k++) {
    const [i, j] = pairs[k];
    const at = 1 + parameters + k;
    const [fi, fj] = [factor[1 + i], factor[1 + j]];
    const [vi, vj] = [(1 + i) * length, (1 + j) * length];
    for (let e = 0; e < length; e++) {
      out[at * length + e] =
        factor[at] * vector[e] +
        fi * vector[vj + e] +
        fj * vector[vi + e] +
        factor[0] * vector[at * length + e];
    }
  }
  return out;
}

/**
 * cross −= factor · vector · vectorᵀ on the upper triangle from row `from` on. `cross` holds one d × d matrix a jet entry, row by row; `vector` is laid out
 * jet by jet with `d` entries, those below `from` unused.
 */
export function subtractOuter(
  shape: JetShape,
  cross: readonly Float64Array[],
  d: number,
  factor: Float64Array,
  vector: Float64Array,
  from: number,
): void {
  const { parameters, pairs } = shape;
  const by = scaled(shape, factor, vector, d);
  const value = cross[0];
  for (let a = from; a < d; a++) {
    const h = by[a];
    for (let b = a; b < d; b++) value[a * d + b] -= h * vector[b];
  }
  for (let i = 1; i <= parameters; i++) {
    const target = cross[i];
    const at = i * d;
    for (let a = from; a < d; a++) {
      const h = by[a];
      const hi = by[at + a];
      for (let b = a; b < d; b++) target[a * d + b] -= hi * vector[b] + h * vector[at + b];
    }
  }
  for (let k = 0; k < pairs.length; k++) {
    const target = cross[1 + parameters + k];
    const atI = (1 + pairs[k][0]) * d;
    const atJ = (1 + pairs[k][1]) * d;
    const at = (1 + parameters + k) * d;
    for (let a = from; a < d; a++) {
      const h = by[a];
      const hi = by[atI + a];
      const hj = by[atJ + a];
      const hij = by[at + a];
      for (let b = a; b < d; b++) {
        target[a * d + b] -=
          hij * vector[b] + hi * vector[atJ + b] + hj * vector[atI + b] + h * vector[at + b];
      }
    }
  }
}
