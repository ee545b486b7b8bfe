import { table } from "arquero";
import { describe, expect, test } from "vitest";
import { asFigureTable, type TableSource } from "../../src/notebook/as-table.ts";
import { quantity } from "../../src/units/index.ts";

describe("a table is made of", () => {
  test("columns and rows", () => {
    const given = { columns: ["a"], rows: [[1], [null]] };
    expect(asFigureTable(given)).toEqual(given);
  });

  test("an Arquero table, in the order and with the rows that its verbs left", () => {
    const given = table({ feed: [0.1, 0.2, 0.3], edge: ["fresh", "used", "fresh"] })
      .filter((row: { feed: number }) => row.feed > 0.1)
      .orderby("edge");
    expect(asFigureTable(given)).toEqual({
      columns: ["feed", "edge"],
      rows: [
        [0.3, "fresh"],
        [0.2, "used"],
      ],
    });
  });

  test("records, with the union of their keys", () => {
    expect(asFigureTable([{ a: 1 }, { a: 2, b: "x" }])).toEqual({
      columns: ["a", "b"],
      rows: [
        [1, null],
        [2, "x"],
      ],
    });
  });

  test("a result that carries its table", () => {
    expect(asFigureTable({ recipes: [], table: { columns: ["a"], rows: [["b"]] } } as TableSource)).toEqual({
      columns: ["a"],
      rows: [["b"]],
    });
  });
});

test("cells are text, finite numbers or empty: what can't be computed is empty, never NaN", () => {
  const cells = {
    nothing: Number.NaN,
    endless: Infinity,
    yes: true,
    when: new Date(Date.UTC(2026, 10, 25)),
    quantity: quantity(0.8, "µm"),
    interval: { estimate: 1, low: 0, high: 2, text: "1, 95 % 0 to 2" },
    several: [1, 2],
    large: 12345678901234567890n,
    missing: undefined,
  };
  expect(asFigureTable([cells]).rows[0]).toEqual([
    null,
    null,
    "yes",
    "2026-11-25T00:00:00.000Z",
    "0.8 µm",
    "1, 95 % 0 to 2",
    "1, 2",
    "12345678901234567890",
    null,
  ]);
});

test("what is no table, and a cell that can't be shown, are refused by name", () => {
  expect(() => asFigureTable("text" as unknown as TableSource)).toThrow(
    "page.table was given something that is no table.",
  );
  expect(() => asFigureTable(null as unknown as TableSource)).toThrow(
    "page.table was given something that is no table.",
  );
  expect(() => asFigureTable([{ a: 1 }, { a: { deep: 1 } }])).toThrow(
    'page.table: column "a", row 2 holds an object. Expected text, a number, a quantity, a date, true or false; name the field of it that should be shown.',
  );
});

test("the table given is not changed", () => {
  const given = Object.freeze({ columns: Object.freeze(["a"]), rows: Object.freeze([Object.freeze([1])]) });
  expect(asFigureTable(given)).not.toBe(given);
});
