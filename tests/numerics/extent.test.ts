import { expect, test } from "vitest";
import { extent } from "../../src/numerics/index.ts";

test("the extent of nothing is zero to zero", () => {
  expect(extent([])).toEqual([0, 0]);
  expect(extent([3, -1, 2])).toEqual([-1, 3]);
});

test("a list longer than a call can take arguments has an extent", () => {
  const long = Float64Array.from({ length: 1_000_000 }, (_, i) => Math.abs(i - 400_000));
  expect(extent(long)).toEqual([0, 599_999]);
});
