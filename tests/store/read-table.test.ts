import { describe, expect, it } from "vitest";
import { readTable, StoreError } from "../../src/store/index.ts";

const numbers = (text: string, options = {}): unknown =>
  readTable(text, options).columns.map((column) => column.numbers);

describe("readTable finds out", () => {
  it.each([
    ["commas and points", "run,Ra [µm]\n1,0.82\n2,1.5\n", [1, 2], [0.82, 1.5]],
    ["semicolons and decimal commas", "run;Ra [µm]\n1;0,82\n2;1,5\n", [1, 2], [0.82, 1.5]],
    ["semicolons and points", "run;Ra [µm]\n1;0.82\n2;1.5\n", [1, 2], [0.82, 1.5]],
    ["tabs, as pasted from a spreadsheet", "run\tRa [µm]\r\n1\t0,82\r\n2\t1,5", [1, 2], [0.82, 1.5]],
    ["commas with quoted decimal commas", 'run,Ra [µm]\n1,"0,82"\n2,"1,5"\n', [1, 2], [0.82, 1.5]],
    [
      "a comma in a header of a file with semicolons",
      "run, no;Ra, mean\n1;0,82\n2;1,5\n",
      [1, 2],
      [0.82, 1.5],
    ],
    ["a first line that names the separator", "sep=;\nrun;Ra\n1;0,82\n2;1,5\n", [1, 2], [0.82, 1.5]],
    ["thousands by points among decimal commas", "run;n\n1;1.000,5\n2;0,5\n", [1, 2], [1000.5, 0.5]],
    [
      "three decimals, where another cell tells that the comma is decimal",
      "run;Ra\n1;1,234\n2;0,5\n",
      [1, 2],
      [1.234, 0.5],
    ],
    ["three decimals behind a point, between commas", "run,Ra\n1,1.234\n2,2.345\n", [1, 2], [1.234, 2.345]],
    [
      "spaces as thousands, minus signs and powers of ten",
      "run;n\n1;−1 000\n2;2e-3\n",
      [1, 2],
      [-1000, 0.002],
    ],
  ])("%s", (_, text, run, value) => {
    expect(numbers(text)).toEqual([run, value]);
  });

  it("what spreadsheets leave behind: empty rows, empty columns, a byte order mark", () => {
    const table = readTable("\ufeffrun,Ra [µm],,\n1,0.8,,\n,,,\n2,,,\n");
    expect(table.columns.map(({ name, unit, numbers: column }) => [name, unit, column])).toEqual([
      ["run", "", [1, 2]],
      ["Ra", "µm", [0.8, null]],
    ]);
    expect(table.lines).toEqual([2, 4]);
    expect(table.dialect).toEqual({ delimiter: ",", decimal: "point", bom: true, newline: "\n" });
  });

  it("text columns, whose cells stay as typed", () => {
    const [run, note] = readTable("run,note\n1, two words \n2,'=1\n").columns;
    expect(run.texts).toEqual(["1", "2"]);
    expect(note.texts).toEqual([" two words ", "=1"]);
    expect(note.numbers).toBeNull();
  });

  it("the encoding that a spreadsheet saved with", () => {
    const text = "run;Ra [µm]\n1;0,8\n";
    const utf16 = new Uint8Array([0xff, 0xfe, ...Buffer.from(text, "utf16le")]);
    const windows = Uint8Array.from(text, (sign) => sign.charCodeAt(0));
    for (const bytes of [Buffer.from(text), utf16, windows])
      expect(readTable(bytes).columns[1].unit).toBe("µm");
    expect(() => readTable(new Uint8Array([80, 75, 3, 4, 0, 0]), { file: "trial.xlsx" })).toThrow(
      "trial.xlsx: this is no text file. Save it as CSV",
    );
  });
});

describe("readTable asks", () => {
  it.each([
    ["one or a thousand", "run;n\n1;1,234\n2;2,345\n", "decimal-sign", ["comma", "point"]],
    [
      "a point that may part thousands between semicolons",
      "run;n\n1;1.234\n2;2.345\n",
      "decimal-sign",
      ["point", "comma"],
    ],
    [
      "three digits where points and commas are mixed",
      'run,Ra,Rz\n1,0.82,"0,5"\n2,"1,234",3\n',
      "decimal-sign",
      ["comma", "point"],
    ],
    [
      "a table that commas and semicolons part alike",
      "a,b;c,d\nx,y;z,w\n",
      "separator",
      ["comma", "semicolon"],
    ],
  ])("about %s", (_, text, kind, choices) => {
    try {
      readTable(text, { file: "x.csv" });
      expect.unreachable();
    } catch (error) {
      if (!(error instanceof StoreError)) throw error;
      expect(error.questions.map((question) => question.kind)).toEqual([kind]);
      expect(error.questions[0].choices.map(({ id }) => id)).toEqual(choices);
    }
  });

  it("and takes the answer as an option", () => {
    expect(numbers("run;n\n1;1,234\n", { decimal: "comma" })).toEqual([[1], [1.234]]);
    expect(numbers("run;n\n1;1,234\n", { decimal: "point" })).toEqual([[1], [1234]]);
    expect(readTable("a,b;c,d\nx,y;z,w\n", { delimiter: ";" }).columns.map(({ name }) => name)).toEqual([
      "a,b",
      "c,d",
    ]);
  });
});

describe("readTable refuses", () => {
  it.each([
    [
      "a decimal comma between commas",
      "run,Ra\n1,0,82\n",
      "x.csv line 2: the row has 3 cells and the header has 2. A decimal comma between commas needs quotes",
    ],
    [
      "a row that is too short",
      "run,Ra,Rz\n1,0.8\n2,1,3\n",
      "x.csv line 2: the row has 2 cells and the header has 3. Fill the missing cells",
    ],
    [
      "a header that is missing",
      "run,,Rz\n1,2,3\n",
      "x.csv line 1: column 2 has no header. Name it, with its unit in brackets.",
    ],
    [
      "a header that stands twice",
      "Ra [µm],ra [µin]\n1,2\n",
      'x.csv line 1: columns 1 and 2 are both called "ra". Rename one of them.',
    ],
    [
      "nothing at all",
      "\n\n",
      "x.csv: the file is empty; expected a line of headers and a line for each row.",
    ],
  ])("%s", (_, text, message) => {
    expect(() => readTable(text, { file: "x.csv" })).toThrow(message);
  });
});
