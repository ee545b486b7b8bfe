import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import {
  commitImport,
  openTrial,
  previewImport,
  record,
  type ImportOptions,
  type ImportPreview,
} from "../../src/store/index.ts";
import { sampleTrial } from "./sample-trial.ts";

/** Ra in µm and Rz in µin of four runs, as a gauge's program writes them in a shop that uses decimal commas. */
const gaugeFile =
  "run;Ra [µm];Rz [µin];comment\n1;0,82;150;\n1;0,80;149;chip brushed off\n2;1,61;290;\n3;0,95;;\n";

async function preview(text: string, options: ImportOptions = {}): Promise<ImportPreview> {
  return previewImport(text, await sampleTrial(), { file: "gauge.csv", ...options });
}

function meanings({ columns }: ImportPreview): readonly (readonly [string, string | null])[] {
  return columns.map(({ column, meaning }) => [column.name, meaning]);
}

function values({ readings }: ImportPreview): readonly unknown[] {
  return readings.map(
    ({ run, response, value, unit, spot, repeat }) => `${run} ${response} ${value} ${unit} ${spot}.${repeat}`,
  );
}

describe("previewImport", () => {
  it("reads a file with a column for each response, keeps units and digits as typed, and writes nothing", async () => {
    const seen = await preview(gaugeFile);
    expect(meanings(seen)).toEqual([
      ["run", "run"],
      ["Ra", "Ra"],
      ["Rz", "Rz"],
      ["comment", "note"],
    ]);
    expect(values(seen)).toEqual([
      "1 Ra 0.82 µm 1.1",
      "1 Rz 150 µin 1.1",
      "1 Ra 0.8 µm 1.2",
      "1 Rz 149 µin 1.2",
      "2 Ra 1.61 µm 1.1",
      "2 Rz 290 µin 1.1",
      "3 Ra 0.95 µm 1.1",
    ]);
    expect(seen.readings[2]).toMatchObject({ text: "0.80", note: "chip brushed off", taken: "" });
    expect(seen.lines).toEqual([2, 2, 3, 3, 4, 4, 5]);
    expect(seen.conversions.map(({ text }) => text)).toEqual([
      "Rz [µin]: kept in µin as typed, and converted exactly to µm for analysis",
    ]);
    expect(seen.dialect).toEqual({ delimiter: ";", decimal: "comma", bom: false, newline: "\n" });
    expect([seen.problems, seen.questions, seen.asCut]).toEqual([[], [], []]);
    expect((await openTrial(seen.folder)).readings).toEqual([]);
  });

  it("reads a file with one row a reading, and columns Ra 1, Ra 2 as repeats", async () => {
    const long = await preview("run,response,value,unit,spot\n1,Ra,0.8,µm,1\n1,Ra,32,uin,2\n1,Rz,4,µm,1\n");
    expect(values(long)).toEqual(["1 Ra 0.8 µm 1.1", "1 Ra 32 µin 2.1", "1 Rz 4 µm 1.1"]);
    const wide = await preview("run,Ra 1 [µm],Ra 2 [µm]\n1,0.8,0.82\n2,1.6,\n");
    expect(values(wide)).toEqual(["1 Ra 0.8 µm 1.1", "1 Ra 0.82 µm 1.2", "2 Ra 1.6 µm 1.1"]);
  });

  it("tells runs by their settings where there is no run column, in whatever unit", async () => {
    // Runs 1 and 5 have the same settings, and so have 2 and 6: see below.
    const trial = await sampleTrial();
    const four = { ...trial, runs: trial.runs.slice(0, 4) };
    const seen = previewImport("edge,feed [µm/rev],Ra [µm]\nfresh,100,0.8\nUsed,200,1.9\n", four);
    expect(values(seen)).toEqual(["1 Ra 0.8 µm 1.1", "4 Ra 1.9 µm 1.1"]);
  });

  it("asks whether rows at the settings of several runs are fresh runs or readings of one surface", async () => {
    const text = "feed [mm/rev],edge,Ra [µm]\n0.1,fresh,0.8\n0.1,fresh,0.9\n";
    const open = await preview(text);
    expect(open.questions.map((question) => [question.id, question.text])).toEqual([
      [
        "run 1",
        "Runs 1, 5 have the same settings, and so have lines 2, 3. Are these fresh runs, or readings of one surface?",
      ],
    ]);
    expect(open.questions[0].choices.map(({ id }) => id)).toEqual(["replicates", "run 1", "run 5"]);
    expect(values(await preview(text, { answers: { "run 1": "replicates" } }))).toEqual([
      "1 Ra 0.8 µm 1.1",
      "5 Ra 0.9 µm 1.1",
    ]);
    expect(values(await preview(text, { answers: { "run 1": "run 5" } }))).toEqual([
      "5 Ra 0.8 µm 1.1",
      "5 Ra 0.9 µm 1.2",
    ]);
  });

  it("asks what an unknown column is and takes a mapping for it", async () => {
    const text = "run,Raa [µm],coolant\n1,0.8,dry\n";
    const open = await preview(text);
    expect(open.questions.map(({ text: question }) => question)).toEqual([
      'What is the column "Raa [µm]" ("0.8", …)? It looks like Ra.',
      'What is the column "coolant" ("dry", …)?',
    ]);
    expect(open.questions[0].choices[0].id).toBe("Ra");
    expect(values(await preview(text, { mapping: { Raa: "Ra", coolant: "leave out" } }))).toEqual([
      "1 Ra 0.8 µm 1.1",
    ]);
    const wrong = await preview(text, { mapping: { Ra2: "Ra", coolant: "sopt" } });
    expect(wrong.problems.map(({ text: problem }) => problem)).toEqual([
      'the mapping names the column "Ra2", which the file does not have; it has run, Raa, coolant.',
      'the mapping gives "coolant" the meaning "sopt"; expected one of run, spot, repeat, block, taken, note, void, response, value, unit, leave out, feed, edge, Ra, Rz. Did you mean "spot"?',
      "no column holds readings; expected one for Ra, Rz, or the columns response, value and unit. Map a column to a response.",
    ]);
  });

  it("numbers spots that have names, and keeps the name as the reading's note", async () => {
    const seen = await preview("run,position,Ra [µm]\n1,centre,0.8\n1,edge side,0.9\n1,centre,0.82\n");
    expect(values(seen)).toEqual(["1 Ra 0.8 µm 1.1", "1 Ra 0.9 µm 2.1", "1 Ra 0.82 µm 1.2"]);
    expect(seen.readings.map(({ note }) => note)).toEqual(["centre", "edge side", "centre"]);
  });

  it("orders repeats by their column, whatever the order of the rows", async () => {
    expect(values(await preview("run,repeat,Ra [µm]\n1,3,0.9\n1,1,0.7\n1,2,0.8\n"))).toEqual([
      "1 Ra 0.9 µm 1.3",
      "1 Ra 0.7 µm 1.1",
      "1 Ra 0.8 µm 1.2",
    ]);
  });

  it("asks for the unit of a column without one", async () => {
    const text = "run,Ra\n1,0.8\n";
    const open = await preview(text);
    expect(open.questions.map((question) => question.text)).toEqual([
      'The column "Ra" has no unit. Is it µm? If not, write the unit into the header in brackets.',
    ]);
    expect(values(await preview(text, { answers: { "unit Ra": "µm" } }))).toEqual(["1 Ra 0.8 µm 1.1"]);
    // A cell with its own unit needs no answer.
    expect(
      values(await preview("run,response,value\n1,Ra,31 µin\n", { answers: { "unit value": "µm" } })),
    ).toEqual(["1 Ra 31 µin 1.1"]);
  });

  it("asks about settings that are not those of the plan, once a run and factor", async () => {
    const text = "run,feed [mm/rev],Ra [µm]\n1,0.12,0.8\n1,0.12,0.82\n2,0.2,1.6\n";
    const open = await preview(text);
    expect(open.questions.map((question) => question.text)).toEqual([
      "line 2, run 1: feed is 0.12 mm/rev in the file and 0.1 mm/rev in the plan. Was the run cut so?",
    ]);
    const cut = await preview(text, { answers: { "cut 1 feed": "cut so" } });
    expect(cut.asCut).toEqual([
      { run: 1, factor: "feed", value: 0.12, unit: "mm/rev", reason: "as gauge.csv says" },
    ]);
    expect((await preview(text, { answers: { "cut 1 feed": "as planned" } })).asCut).toEqual([]);
  });

  it("asks about the separator and the decimal sign where the file does not tell", async () => {
    const text = "run;Ra [µm]\n1;1,234\n2;2,345\n";
    const open = await preview(text);
    expect(open.questions.map(({ id }) => id)).toEqual(["decimal-sign"]);
    expect(values(await preview(text, { answers: { "decimal-sign": "comma" } }))).toEqual([
      "1 Ra 1.234 µm 1.1",
      "2 Ra 2.345 µm 1.1",
    ]);
  });

  it("asks about slips with the line of the file", async () => {
    const rows = [0.8, 0.82, 31, 0.79, 0.85].map((value) => `1,${value}`).join("\n");
    const [question] = (await preview(`run,Ra [µm]\n${rows}\n`)).questions;
    expect(question.text).toBe(
      'gauge.csv line 4, run 1: Ra 31 µm is about 38 times the other readings (0.79 to 0.85 µm). If it is 31 µin, write "31 µin" (0.79 µm).',
    );
    const mended = await preview(`run,Ra [µm]\n${rows}\n`, { answers: { [question.id]: "write 31 µin" } });
    expect(mended.readings[2]).toMatchObject({ value: 31, unit: "µin", note: "typed 31 µm" });
    const without = await preview(`run,Ra [µm]\n${rows}\n`, { answers: { [question.id]: "leave-out" } });
    expect(without.lines).toEqual([2, 3, 5, 6]);
    const kept = await preview(`run,Ra [µm]\n${rows}\n`, { force: "the edge had chipped" });
    expect(kept.readings[2]).toMatchObject({ value: 31, unit: "µm", note: "kept: the edge had chipped" });
    const noReason = await preview(`run,Ra [µm]\n${rows}\n`, { answers: { "decimal-sign": "point" } });
    expect(noReason.questions).toHaveLength(1);
  });

  it.each([
    [
      "a run that is not in the plan",
      "run,Ra [µm]\n9,0.8\n",
      'line 2: got run "9"; the plan has runs 1 to 8.',
    ],
    ["text for a number", "run,Ra [µm]\n1,o.8\n2,1\n", 'gauge.csv line 2, Ra: "o.8" is not a quantity'],
    [
      "a unit of another dimension",
      "run,Ra [bar]\n1,0.8\n",
      '"Ra [bar]": bar measures pressure; Ra is a length in µm.',
    ],
    [
      "no readings at all",
      "run,note\n1,fine\n",
      "no column holds readings; expected one for Ra, Rz, or the columns response, value and unit.",
    ],
    [
      "no way to tell the runs",
      "feed [mm/rev],Ra [µm]\n0.1,0.8\n",
      "the file has no run column, and without edge the settings don't tell the runs apart.",
    ],
    [
      "settings of no run",
      "feed [mm/rev],edge,Ra [µm]\n0.3,used,0.8\n",
      "line 2: no run of the plan has feed 0.3 mm/rev, edge used.",
    ],
    [
      "a level that is none",
      "feed [mm/rev],edge,Ra [µm]\n0.1,blunt,0.8\n",
      'line 2, edge: got "blunt"; expected one of "fresh", "used".',
    ],
    [
      "two columns for one thing",
      "run,pass,Ra [µm]\n1,1,0.8\n",
      'the columns "run" and "pass" both mean run. Leave one of them out.',
    ],
    [
      "a row of another length",
      "run,Ra [µm]\n1,0,8\n",
      "gauge.csv line 2: the row has 3 cells and the header has 2.",
    ],
    [
      "a time that is none",
      "run,taken,Ra [µm]\n1,yesterday,0.8\n",
      'gauge.csv line 2, taken: got "yesterday"; expected a time such as',
    ],
  ])("tells %s as a problem", async (_, text, problem) => {
    const { problems, readings } = await preview(text);
    expect(problems.map((one) => one.text).join("\n")).toContain(problem);
    expect(readings).toEqual([]);
  });
});

describe("commitImport", () => {
  it("writes all of a file as one line of the journal", async () => {
    const seen = await preview(gaugeFile);
    const imported = await commitImport(seen);
    expect(imported).toMatchObject({ kind: "imported", readings: 7, asCut: 0 });
    const journal = (await readFile(join(seen.folder, "journal.ndjson"), "utf8")).trimEnd().split("\n");
    expect(journal).toHaveLength(2);
    expect(journal[1]).toContain('"kind":"imported","source":"gauge.csv"');
    expect((await openTrial(seen.folder)).readings).toEqual(seen.readings);
  });

  it("writes nothing while something is open or wrong", async () => {
    const doubtful = await preview("run,Ra [µm]\n1,0.8\n1,0.82\n1,31\n1,0.81\n");
    expect(await commitImport(doubtful)).toMatchObject({ kind: "asked", questions: [{ kind: "unit-slip" }] });
    await expect(commitImport(await preview("run,Ra [µm]\n9,0.8\n"))).rejects.toThrow(
      'gauge.csv can\'t be taken in:\nline 2: got run "9"; the plan has runs 1 to 8.\nNothing was written.',
    );
    await expect(commitImport(doubtful, { answers: { "run 1 Ra spot 1 31 µm": "keep" } })).rejects.toThrow(
      "needs a note",
    );
    expect((await openTrial(doubtful.folder)).readings).toEqual([]);
    await expect(commitImport({ ...doubtful, folder: "" })).rejects.toThrow("is not on disk");
    expect(
      await commitImport(doubtful, {
        answers: { "run 1 Ra spot 1 31 µm": { choice: "keep", note: "torn tip" } },
      }),
    ).toMatchObject({ readings: 4 });
  });

  it("asks before it takes the same file in twice", async () => {
    const seen = await preview(gaugeFile);
    await commitImport(seen);
    const again = await commitImport(seen);
    expect(again.kind === "asked" ? again.questions.map(({ text }) => text) : again).toEqual([
      "7 of the 7 readings are in the trial already, with the same run, spot and value. Was this file taken in before?",
    ]);
    const longer = previewImport(`${gaugeFile}4;1,9;330;\n`, await openTrial(seen.folder), {
      answers: { "known readings": "only new" },
    });
    expect(values(longer)).toEqual(["4 Ra 1.9 µm 1.1", "4 Rz 330 µin 1.1"]);
  });

  it("counts what others recorded since the preview", async () => {
    const seen = await preview("run,Ra [µm]\n1,0.8\n");
    await record(seen.folder, [{ run: 1, response: "Ra", value: 0.83 }]);
    const imported = await commitImport(seen);
    expect(
      imported.kind === "imported"
        ? imported.trial.readings.map(({ value, repeat }) => [value, repeat])
        : imported,
    ).toEqual([
      [0.83, 1],
      [0.8, 2],
    ]);
  });
});
