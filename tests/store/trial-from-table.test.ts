import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { createTrialFromTable, openTrial, trialFromTable, type TablePreview } from "../../src/store/index.ts";
import { freshRoot } from "./sample-trial.ts";

/** Two edges × two feeds, read at two places, twice each; the run column counts the feeds only. Invented. */
function shaftTable(): string {
  const rows: string[] = [];
  let value = 0.8;
  for (const replicate of [1, 2, 3, 4]) {
    for (const edge of ["new", "worn"]) {
      for (const [run, feed] of [
        [1, "0.10"],
        [2, "0.20"],
      ] as const) {
        value += 0.001;
        rows.push(
          [run, feed, edge, replicate <= 2 ? "live centre" : "chuck", replicate, value.toFixed(3)].join(","),
        );
      }
    }
  }
  return ["run,feed [mm/rev],edge,position,replicate,Ra [µm]", ...rows].join("\n");
}

function roles({ columns }: TablePreview): readonly string[] {
  return columns.map(
    ({ column, role, unit }) => `${column.name}: ${role ?? "asked"}${unit === null ? "" : ` in ${unit}`}`,
  );
}

describe("trialFromTable", () => {
  it("takes several columns together for the surface, and names of spots for their numbers", () => {
    const seen = trialFromTable(shaftTable(), { surface: ["run", "edge"] });
    expect([seen.problems, seen.questions]).toEqual([[], []]);
    expect(roles(seen)).toEqual([
      "run: run",
      "feed: quantity in mm/rev",
      "edge: category",
      "position: spot",
      "replicate: repeat",
      "Ra: response in µm",
    ]);
    expect(seen.told).toBe("each run × edge is a surface of its own");
    expect(seen.runs.map(({ run, settings, role }) => [run, settings, role])).toEqual([
      [1, { feed: 0.1, edge: "new" }, "given"],
      [2, { feed: 0.2, edge: "new" }, "given"],
      [3, { feed: 0.1, edge: "worn" }, "given"],
      [4, { feed: 0.2, edge: "worn" }, "given"],
    ]);
    expect(seen.spots).toEqual(["live centre", "chuck"]);
    // The replicate column runs from 1 to 4; at each spot the repeats are numbered from 1.
    const ofRun3 = seen.readings.filter((reading) => reading.run === 3);
    expect(ofRun3.map(({ value, spot, repeat, note }) => [value, spot, repeat, note])).toEqual([
      [0.803, 1, 1, "live centre"],
      [0.807, 1, 2, "live centre"],
      [0.811, 2, 1, "chuck"],
      [0.815, 2, 2, "chuck"],
    ]);
  });

  it("asks what names a surface where one run has several settings", () => {
    const open = trialFromTable(shaftTable());
    expect(open.questions.map(({ text }) => text)).toEqual([
      "Rows with the same run have different settings of edge. Do run, edge together name one surface?",
    ]);
    expect(trialFromTable(shaftTable(), { answers: { surface: "together" } }).runs).toHaveLength(4);
  });

  it("asks whether rows with equal settings are repeats or replicates, and never guesses", () => {
    const text = "feed [mm/rev],edge,Ra [µm]\n0.1,new,0.8\n0.1,new,0.9\n0.2,worn,1.6\n0.2,worn,1.7\n";
    const open = trialFromTable(text);
    expect(open.questions.map((question) => [question.kind, question.text])).toEqual([
      [
        "repeat-or-replicate",
        "Lines 2, 3 have the same settings, and the file has no run column. Are they readings of one surface (repeats), or was each cut afresh (replicates)?",
      ],
    ]);
    const repeats = trialFromTable(text, { answers: { rows: "repeats" } });
    expect(repeats.readings.map(({ run, repeat }) => [run, repeat])).toEqual([
      [1, 1],
      [1, 2],
      [2, 1],
      [2, 2],
    ]);
    const replicates = trialFromTable(text, { answers: { rows: "replicates" } });
    expect(replicates.readings.map(({ run, repeat }) => [run, repeat])).toEqual([
      [1, 1],
      [2, 1],
      [3, 1],
      [4, 1],
    ]);
    expect(replicates.told).toBe("each row is a run, cut afresh");
  });

  it("keeps the run column's numbers where they are the cutting order, and tells blocks", () => {
    const text =
      "run,day,feed [mm/rev],Ra [µm]\n3,Tue,0.1,0.8\n1,Mon,0.2,1.6\n2,Mon,0.1,0.9\n4,Tue,0.2,1.7\n";
    const { runs, problems, questions } = trialFromTable(text, { mapping: { feed: "quantity" } });
    expect([problems, questions]).toEqual([[], []]);
    expect(runs.map(({ run, block, settings }) => [run, block, settings.feed])).toEqual([
      [1, 2, 0.2],
      [2, 2, 0.1],
      [3, 1, 0.1],
      [4, 1, 0.2],
    ]);
  });

  it("makes the trial's spec: ranges, levels, what was held, what is said about it", () => {
    const text =
      "feed [ipr],depth [mm],fluid,Ra [uin]\n0.004,0.1,dry,31\n0.004,0.1,flood,30\n0.008,0.1,dry,62\n0.008,0.1,flood,61\n";
    const { spec, problems, questions } = trialFromTable(text, {
      about: { title: "Feed and fluid", dataKind: "published", source: "a book" },
    });
    expect([problems, questions]).toEqual([[], []]);
    expect(spec).toEqual({
      format: "trycut-trial/1",
      title: "Feed and fluid",
      question: "",
      dataKind: "published",
      source: "a book",
      display: "metric",
      factors: [
        {
          name: "feed",
          kind: "quantity",
          unit: "in/rev",
          low: 0.004,
          high: 0.008,
          scale: "linear",
          levels: [0.004, 0.008],
          change: "easy",
        },
        { name: "fluid", kind: "category", levels: ["dry", "flood"], change: "easy" },
      ],
      responses: [{ name: "Ra", unit: "µin", aim: "smaller" }],
      layout: { kind: "given" },
      held: { depth: "0.1 mm" },
    });
  });

  it("asks for what a header does not tell: the role of numbers that never come again, and a unit that is not known", () => {
    const text = "pressure [psig],life [h],Ra [µm]\n10,1.5,0.8\n10,2.5,0.9\n20,3.5,1.1\n20,4.5,1.2\n";
    const open = trialFromTable(text);
    expect(open.questions.map((question) => question.text)).toEqual([
      'What is the column "pressure [psig]" ("10", "10", "20", …): a factor, a response, or something else?',
      'What is the column "life [h]" ("1.5", "2.5", "3.5", …): a factor, a response, or something else?',
      "Lines 2, 3, 4, 5 have the same settings, and the file has no run column. Are they readings of one surface (repeats), or was each cut afresh (replicates)?",
    ]);
    const half = trialFromTable(text, {
      mapping: { pressure: "quantity", life: "response" },
      answers: { rows: "replicates" },
    });
    expect(half.questions.map((question) => question.text)).toEqual([
      'The column "pressure [psig]" has the unit "psig", which is not known. Is it a plain number? If not, write a known unit into the header in brackets.',
    ]);
    const done = trialFromTable(text, {
      mapping: { pressure: "quantity", life: "response" },
      answers: { rows: "replicates", "unit pressure": "1" },
    });
    expect([done.problems, done.questions, done.readings.length]).toEqual([[], [], 8]);
  });

  it.each([
    [
      "a setting that is missing",
      "run,feed [mm/rev],Ra [µm]\n1,0.1,0.8\n2,,0.9\n3,0.1,0.8\n4,0.1,1\n",
      { feed: "quantity" },
      "line 3: the setting of feed is missing.",
    ],
    [
      "a header that can't be a factor",
      "run,order,Ra [µm]\n1,a,0.8\n2,b,0.9\n3,a,0.8\n4,b,1\n",
      {},
      'got "order"; expected a name of its own.',
    ],
    ["a surface column that is not there", shaftTable(), { surface: "x" }, "the mapping names the column"],
  ])("tells %s as a problem", (_, text, mapping, problem) => {
    const { problems } = trialFromTable(text, { mapping });
    expect(problems.map((one) => one.text).join("\n")).toContain(problem);
  });
});

describe("createTrialFromTable", () => {
  it("makes the folder with its readings, or asks and makes nothing", async () => {
    const root = await freshRoot();
    const seen = trialFromTable(shaftTable(), { file: "shafts.csv" });
    expect(await createTrialFromTable(root, "shafts", seen)).toMatchObject({
      kind: "asked",
      questions: [{ id: "surface" }],
    });
    const made = await createTrialFromTable(root, "shafts", seen, { answers: { surface: "together" } });
    expect(made.kind === "created" ? [made.trial.runs.length, made.trial.readings.length] : made).toEqual([
      4, 16,
    ]);
    const opened = await openTrial("shafts", { root });
    expect(opened.readings[0]).toMatchObject({ value: 0.801, note: "live centre" });
    await expect(
      createTrialFromTable(root, "Shafts", seen, { answers: { surface: "together" } }),
    ).rejects.toThrow("the folder is there already");
    expect((await readFile(`${opened.folder}/plan.csv`, "utf8")).split("\n").slice(0, 2)).toEqual([
      "run,standard,block,role,feed [mm/rev],edge",
      "1,1,1,given,0.1,new",
    ]);
  });
});

describe("the open turning data, brought in by this road", () => {
  it("are 68 surfaces with 12 readings at each of three places, and their means are those of the data set", async () => {
    const { spec, runs, readings } = await openTrial("turning-12l14", { root: "experiments" });
    expect(spec).toMatchObject({ dataKind: "published", layout: { kind: "given" } });
    expect(spec.source).toContain("CC BY 4.0");
    expect(runs).toHaveLength(68);
    const ra = readings.filter((reading) => reading.response === "Ra");
    const cells = new Map<string, number>();
    ra.forEach(({ run, spot }) => cells.set(`${run}/${spot}`, (cells.get(`${run}/${spot}`) ?? 0) + 1));
    expect([...new Set(cells.values()), cells.size]).toEqual([12, 204]);
    const mean = ra.reduce((sum, { value }) => sum + value, 0) / ra.length;
    // Mean of the 2,448 published Ra values, recomputed with base R; sums of 2,448 doubles agree to about 1e-13.
    expect(mean).toBeCloseTo(1.98431781045752, 12);
  });
});
