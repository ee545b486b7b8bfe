import { describe, expect, test } from "vitest";
import { layOut } from "../../src/layout/index.ts";
import { coded } from "./factors.ts";

const rowsOf = (factors: number, layout: Record<string, unknown>) =>
  layOut({
    factors: names(factors),
    layout: { kind: "plackett-burman", order: "as-listed", ...layout },
  }).runs.map((run) => names(factors).map((factor) => Number(run.settings[factor.name])));
const names = (count: number) =>
  coded(count).map((factor, index) => ({ ...factor, name: count > 20 ? `f${index + 1}` : factor.name }));
const refusal = (factors: number, layout: Record<string, unknown>) => {
  try {
    rowsOf(factors, layout);
  } catch (error) {
    return (error as Error).message;
  }
  return "nothing";
};

describe("a Plackett–Burman layout", () => {
  const sizes = Array.from({ length: 25 }, (_, index) => 4 * (index + 1)).filter((runs) => runs !== 92);
  test.each(sizes)("of %i runs is balanced, every pair of columns at right angles", (runs) => {
    const rows = rowsOf(runs - 1, { runs });
    expect(rows).toHaveLength(runs);
    for (let one = 0; one < runs - 1; one += 1) {
      expect(rows.reduce((sum, row) => sum + (row[one] ?? 0), 0)).toBe(0);
      for (let other = 0; other < one; other += 1) {
        expect(rows.reduce((sum, row) => sum + (row[one] ?? 0) * (row[other] ?? 0), 0)).toBe(0);
      }
    }
  });

  // Plackett and Burman, Biometrika 33, 1946: first rows of the cyclic tables (from memory; balance and angles are checked above).
  test.each([
    [8, "+++-+--"],
    [12, "++-+++---+-"],
    [20, "++--++++-+-+----++-"],
    [24, "+++++-+-++--++--+-+----"],
  ])("of %i runs is the cyclic table of 1946", (runs, firstRow) => {
    const rows = rowsOf(runs - 1, { runs }).map((row) =>
      row.map((value) => (value > 0 ? "+" : "-")).join(""),
    );
    const cyclic = [...firstRow].map(
      (_, shift) => firstRow.slice(firstRow.length - shift) + firstRow.slice(0, firstRow.length - shift),
    );
    expect(rows).toEqual([...cyclic, "-".repeat(runs - 1)]);
  });

  test("takes the fewest runs by itself", () => {
    expect(rowsOf(7, {})).toHaveLength(8);
    expect(rowsOf(8, {})).toHaveLength(12);
  });

  test("of 12 runs leans a third of every product of two factors on every other main effect", () => {
    const layout = layOut({ factors: coded(11), layout: { kind: "plackett-burman" } });
    expect(layout.aliases).toHaveLength(11);
    for (const text of layout.aliases ?? []) {
      const parts = text.split(": ")[1]?.split(", ") ?? [];
      expect(parts).toHaveLength(45);
      for (const part of parts) expect(part).toMatch(/^[+−]0\.333 [A-Z]{2}$/);
    }
  });

  test("shows the partial aliases that its runs have", () => {
    const layout = layOut({ factors: coded(5), layout: { kind: "plackett-burman", runs: 20 } });
    const [name, list] = (layout.aliases?.[0] ?? "").split(": ");
    expect(name).toBe("A");
    for (const part of list?.split(", ") ?? []) {
      const [share, pair] = part.split(" ");
      const mean =
        layout.runs.reduce(
          (sum, run) =>
            sum + [...`A${pair}`].reduce((product, letter) => product * Number(run.settings[letter]), 1),
          0,
        ) / 20;
      expect(Number(share?.replace("−", "-"))).toBeCloseTo(mean, 3);
    }
  });

  test("folded over is clear of products of two factors", () => {
    const rows = rowsOf(11, { foldOver: "all" });
    expect(rows).toHaveLength(24);
    for (let a = 0; a < 11; a += 1)
      for (let b = 0; b < a; b += 1)
        for (let c = 0; c < 11; c += 1) {
          if (c === a || c === b) continue;
          expect(rows.reduce((sum, row) => sum + (row[a] ?? 0) * (row[b] ?? 0) * (row[c] ?? 0), 0)).toBe(0);
        }
  });

  test("refuses sizes that it can't make, with those near by that it can", () => {
    expect(refusal(5, { runs: 92 })).toBe(
      "layout.runs: no construction for 92 runs is known to this tool. Take 88 or 96.",
    );
    expect(refusal(5, { runs: 10 })).toBe(
      "layout.runs: 10 runs can't hold 5 factors in a Plackett–Burman layout; take a multiple of 4 from 8 to 100.",
    );
    expect(refusal(12, { runs: 12 })).toBe(
      "layout.runs: 12 runs can't hold 12 factors in a Plackett–Burman layout; take a multiple of 4 from 16 to 100.",
    );
  });
});

test.each([
  [100, 15],
  [52, 12],
  [40, 10],
  [32, 12],
])("columns of %i runs are chosen so that %i factors lean little on any product of two", (runs, count) => {
  const rows = rowsOf(count, { runs });
  const column = (place: number) => rows.map((row) => row[place] ?? 0);
  let most = 0;
  for (let a = 0; a < count; a += 1)
    for (let b = 0; b < a; b += 1)
      for (let c = 0; c < b; c += 1) {
        const [one, other, third] = [column(a), column(b), column(c)];
        const sum = one.reduce(
          (total, value, run) => total + value * (other[run] ?? 0) * (third[run] ?? 0),
          0,
        );
        most = Math.max(most, Math.abs(sum) / runs);
      }
  // The first columns of a doubled table lean by nearly the whole of a product.
  expect(most).toBeLessThan(0.4);
});
