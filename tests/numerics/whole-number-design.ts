import fc from "fast-check";
import { expect } from "vitest";
import type { DesignColumn } from "../../src/numerics/index.ts";

export const column = (...values: number[]): DesignColumn => ({ high: Float64Array.from(values) });
export const ones = (rows: number): DesignColumn => ({ high: new Float64Array(rows).fill(1) });

/** Small whole-number designs with a constant, of which many are near or fully rank deficient, and a response. */
export const design = fc
  .record({ rows: fc.integer({ min: 4, max: 14 }), extra: fc.integer({ min: 1, max: 4 }) })
  .chain(({ rows, extra }) =>
    fc.record({
      columns: fc.array(fc.array(fc.integer({ min: -9, max: 9 }), { minLength: rows, maxLength: rows }), {
        minLength: extra,
        maxLength: extra,
      }),
      response: fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: rows, maxLength: rows }),
      weights: fc.array(fc.integer({ min: 0, max: 5 }), { minLength: rows, maxLength: rows }),
    }),
  )
  .map(({ columns, response, weights }) => ({
    columns: [ones(response.length), ...columns.map((values) => column(...values))],
    response: Float64Array.from(response),
    weights: Float64Array.from(weights, (weight, i) => (i === 0 ? 1 : weight)),
  }));

/** Error measured against the size that rounding acts on, not against a coefficient that may be 0. */
export function expectNear(computed: ArrayLike<number>, wanted: ArrayLike<number>, size: number): void {
  expect(computed.length).toBe(wanted.length);
  for (let i = 0; i < wanted.length; i++) expect(Math.abs(computed[i] - wanted[i])).toBeLessThanOrEqual(size);
}
