import { fromCSV } from "arquero";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readTable, writeCsv, type Dialect } from "../../src/store/index.ts";
import { splitCells } from "../../src/store/csv-cells.ts";
import { neutralised, restored } from "../../src/store/formula-cells.ts";

const seed = 20261125;
const dialects = fc.record<Dialect>({
  delimiter: fc.constantFrom(",", ";", "\t"),
  decimal: fc.constantFrom("point", "comma"),
  bom: fc.boolean(),
  newline: fc.constantFrom("\n", "\r\n"),
});
/** Text such as people and spreadsheets put into cells, the awkward signs more often than they do. */
const cells = fc.string({ unit: fc.constantFrom(..."abµ0 =+-@'\",;\t\n".split("")), maxLength: 8 });

describe("writeCsv and readTable", () => {
  it("give back every cell in every dialect", () => {
    fc.assert(
      fc.property(
        dialects,
        fc.array(fc.tuple(cells, fc.double({ noNaN: true, noDefaultInfinity: true })), { minLength: 1 }),
        (dialect, rows) => {
          const text = writeCsv(
            [
              { header: "text", cells: rows.map(([cell]) => cell) },
              // A blank row would be left out, and a column without a number tells no decimal sign.
              { header: "number [mm]", cells: rows.map(([, number]) => number) },
            ],
            dialect,
          );
          const { columns } = readTable(text, { delimiter: dialect.delimiter, decimal: dialect.decimal });
          // Line breaks inside cells follow the file's.
          expect(columns[0].texts.map((cell) => cell.replaceAll("\r\n", "\n"))).toEqual(
            rows.map(([cell]) => cell),
          );
          expect(columns[1].numbers).toEqual(rows.map(([, number]) => (number === 0 ? 0 : number)));
          expect(columns[1]).toMatchObject({ header: "number [mm]", name: "number", unit: "mm" });
        },
      ),
      { seed },
    );
  });

  it("refuse columns of unequal length and two of one name", () => {
    const column = { header: "run", cells: [1] };
    expect(() => writeCsv([column, { header: "Ra", cells: [] }])).toThrow(
      "the columns have 1, 0 cells; expected as many in each.",
    );
    expect(() => writeCsv([column, column])).toThrow(
      "two columns have one header; expected a header of its own for each.",
    );
  });
});

describe("splitCells", () => {
  it("agrees with Arquero's reader on well-formed text", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(cells, cells, cells), { minLength: 1, maxLength: 8 }), (rows) => {
        const quote = (cell: string): string =>
          /[",\n\r]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
        const text = [["a", "b", "c"], ...rows].map((row) => row.map(quote).join(",")).join("\n");
        const kept = rows.filter((row) => row.some((cell) => cell.trim() !== ""));
        expect(splitCells(text, ",", "x").rows.slice(1)).toEqual(kept);
        const arquero = fromCSV(text, { autoType: false }).objects() as Record<string, string | null>[];
        const theirs = arquero.map((row) => ["a", "b", "c"].map((name) => row[name] ?? ""));
        expect(theirs.filter((row) => row.some((cell) => cell.trim() !== ""))).toEqual(kept);
      }),
      { seed },
    );
  });

  it("knows the line on which each row begins, blank lines and broken cells counted", () => {
    const { rows, lines } = splitCells('a,b\r\n\r\n1,"two\nlines"\r,,\n3,4', ",", "x");
    expect(rows).toEqual([
      ["a", "b"],
      ["1", "two\nlines"],
      ["3", "4"],
    ]);
    expect(lines).toEqual([1, 3, 6]);
  });

  it("refuses a quote that never closes and text behind one that does", () => {
    expect(() => splitCells('a,b\n1,"2\n', ",", "x.csv")).toThrow(
      "x.csv line 2: a quote is opened and never closed.",
    );
    expect(() => splitCells('a,b\n"1"2,3', ",", "x.csv")).toThrow(
      'x.csv line 2: text stands behind a closing quote ("2,3").',
    );
  });
});

describe("text that a spreadsheet would run", () => {
  it("is neutralised, and comes back as it was", () => {
    fc.assert(
      fc.property(cells, (text) => {
        expect(restored(neutralised(text))).toBe(text);
        // Nothing that is written begins with a sign that runs, but for a negative number.
        expect(/^[\s]*[=+\-@]/.test(neutralised(text)) && !/^-\d+$/.test(text)).toBe(false);
      }),
      { seed, numRuns: 1000 },
    );
  });

  it.each([
    ["=1+1", "'=1+1"],
    ["@SUM(A1)", "'@SUM(A1)"],
    ["+49 171", "'+49 171"],
    ["-1+cmd|' /C calc'!A0", "'-1+cmd|' /C calc'!A0"],
    ["＝1+1", "'＝1+1"],
    ["\t=1", "'\t=1"],
    ["'=1", "''=1"],
    ["-0.5", "-0.5"],
    ["'tis fine", "'tis fine"],
    ["a=b", "a=b"],
  ])("%j is written as %j", (text, cell) => {
    expect(neutralised(text)).toBe(cell);
  });
});
