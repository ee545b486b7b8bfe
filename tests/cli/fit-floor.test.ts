import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { fitFloor, type FloorJson } from "../../src/model/index.ts";
import { openTrial } from "../../src/store/index.ts";
import reference from "../fixtures/floor/floor.json" with { type: "json" };
import { listeningTerminal } from "./terminal.ts";

const project = fileURLToPath(new URL("../..", import.meta.url));
let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "trycut-floor-"));
  const edge = reference.edge.map((used) => (used === 1 ? "used" : "fresh"));
  const lines = reference.feed.map((feed, i) => `${feed},${edge[i]},${reference.Ra[i]}`);
  const files = {
    "cut.csv": ["feed [mm/rev],edge,Ra [µm]", ...lines].join("\n"),
    "one.csv": "feed,Ra\n0.1,0.4\n0.1,0.7\n0.1,1.2\n0.1,0.4\n",
    "few.csv": "feed,Ra\n0.1,0.4\n0.2,0.7\n0.3,1.2\n",
    "none.csv": "feed,Ra\n0.1,0.4\n0.2,0\n0.3,1.2\n0.1,0.4\n",
    "endless.csv": "feed,Ra\n0.1,0.4\n0.2,1e400\n0.3,1.2\n0.1,0.4\n",
    "same.csv": "feed,Ra\n0.1,0.5\n0.2,0.5\n0.3,0.5\n0.1,0.5\n0.2,0.5\n",
  };
  for (const [name, text] of Object.entries(files)) await writeFile(join(folder, name), text);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function fit(words: readonly string[], { at = folder } = {}) {
  const terminal = listeningTerminal(at);
  const code = await runCommand(["fit", ...words], verbs, terminal);
  return { code, text: terminal.said.join("\n"), complaint: terminal.complaints.join("\n") };
}

const cut = ["cut.csv", "--response", "Ra", "--factors", "feed,edge"];

describe("fit --floor", () => {
  test.each(["quadrature", "sum"] as const)(
    "%s: floor, coefficient, exponent and level of a table as R finds them",
    async (form) => {
      const { code, text } = await fit([...cut, "--floor", form, "--json"]);
      expect(code).toBe(0);
      const answer = JSON.parse(text) as FloorJson;
      const told = reference[form];
      const near = (
        given: {
          readonly estimate: number | null;
          readonly low: number | null;
          readonly high: number | null;
        },
        [estimate, low, high]: readonly number[],
      ) => {
        // As in tests/model/floor: nls stops at 1e-10, ends hold about six digits.
        expect(given.estimate! / estimate).toBeCloseTo(1, 7);
        expect(given.low! / low).toBeCloseTo(1, 5);
        expect(given.high! / high).toBeCloseTo(1, 5);
      };
      near(answer.floor, told.floor);
      near(answer.coefficient, told.coefficient);
      near(answer.exponents[0], told.exponent);
      near(answer.levels[0], told.level);
      expect(answer.levels[0]).toMatchObject({ factor: "edge", level: "used", against: "fresh" });
      expect(answer.without!.f! / told.f).toBeCloseTo(1, 7);
      expect(answer).toMatchObject({ model: "floor", form, tells: "floor", separating: null, residualDf: 8 });
    },
  );

  test("the text tells the floor, what a change does, a prediction, and the numbers behind it", async () => {
    const { code, text } = await fit([
      ...cut,
      "--floor",
      "quadrature",
      "--at",
      '{"feed":0.1,"edge":"used"}',
      "--from",
      '{"feed":0.2,"edge":"fresh"}',
      "--to",
      '{"feed":0.1}',
    ]);
    expect(code).toBe(0);
    const words = text.replaceAll(/\s+/g, " ");
    expect(words).toMatch(
      /^With edge fresh, going from feed 0\.2 mm\/rev to feed 0\.1 mm\/rev multiplies Ra by 0\.\d+ \(95 % /,
    );
    // 0.3022, 0.2761 to 0.3285 by R.
    expect(words).toContain(
      "Ra does not get below about 0.302 µm (95 % 0.276 to 0.328 µm), however small the marks.",
    );
    expect(words).toContain("At feed 0.1 mm/rev, edge used the median of Ra is 0.");
    expect(words).toContain("The numbers behind it: Ra² = floor² + (C · feed^a · edge)²");
    expect(words).toMatch(/C \[µm\] 25\.0 20\.7 30\.3 /);
    expect(words).toContain(
      "C is the height of the marks alone at feed 1 mm/rev and edge fresh (outside what was cut of feed",
    );
    // The table stands in rising feeds, which the remarks must not pass over.
    expect(words).toContain("! ");
  });

  test("a trial by its name: factors and response from its plan, its sentences those of the library", async () => {
    const { code, text } = await fit(["seal-face-usual-feeds", "--floor", "quadrature", "--json"], {
      at: project,
    });
    expect(code).toBe(0);
    const own = fitFloor(await openTrial("seal-face-usual-feeds", { root: join(project, "experiments") }));
    const answer = JSON.parse(text) as FloorJson;
    expect(own.tells).toBe("either");
    expect(answer.sentences).toEqual(own.sentences);
    expect(answer.separating).toEqual(own.separating);
    const shown = await fit(["seal-face-usual-feeds", "--floor", "quadrature"], { at: project });
    expect(shown.text.replaceAll(/\s+/g, " ")).toContain(own.separating!.text);
    expect(shown.text.replaceAll(/\s+/g, " ")).toContain(
      "These runs can't tell a floor from a smaller exponent",
    );
  });

  test.each([
    [
      "one.csv",
      "feed, which never moved in these runs; expected factors that were cut at two settings or more. Leave it out of the factors.",
    ],
    [
      "few.csv",
      "3 runs for a floor, a constant and 1 exponent; expected more than 3 runs. Cut more settings, or leave factors out.",
    ],
    [
      "none.csv",
      "run 2: Ra 0; expected readings above zero, as heights are. Look at the reading: void it if it is a slip, or mend it.",
    ],
    ["endless.csv", 'line 3: Ra "1e400"; expected a number, or an empty cell.'],
  ])("%s is refused with what mends it", async (file, complaint) => {
    expect(await fit([file, "--response", "Ra", "--factors", "feed", "--floor", "sum"])).toEqual({
      code: 1,
      text: "",
      complaint,
    });
  });

  test("runs that all read the same show no floor, and that is an answer", async () => {
    const words = ["same.csv", "--response", "Ra", "--factors", "feed", "--floor", "quadrature"];
    const { code, text } = await fit(words);
    expect(code).toBe(0);
    expect(text).toContain(
      "A floor of Ra can't be told: no search for a floor settled: these runs don't show one.",
    );
    expect(text).not.toContain("NaN");
    const answer = JSON.parse((await fit([...words, "--json"])).text) as FloorJson;
    expect(answer).toMatchObject({
      converged: false,
      floor: { estimate: null, low: null, high: null, reason: expect.any(String) as string },
    });
  });

  test("wrong words: another form, other models, a trial without a form", async () => {
    expect(await fit([...cut, "--floor", "both"])).toMatchObject({
      code: 2,
      complaint: "--floor both: expected one of quadrature, sum.",
    });
    expect(await fit([...cut, "--floor", "sum", "--model", "main"])).toMatchObject({
      code: 2,
      complaint: "--model does not go with --floor: it is a model of its own. Leave out one of the two.",
    });
    expect(await fit([...cut, "--floor", "sum", "--draws", "1000"])).toMatchObject({
      code: 2,
      complaint: "--draws does not go with --floor. Leave out one of the two.",
    });
    expect(await fit(["cut.csv", "--response", "Ra", "--floor", "sum"])).toMatchObject({
      code: 2,
      complaint: "--factors is needed: the columns that explain the response.",
    });
    expect(
      await fit(["seal-face-usual-feeds", "--response", "Ra", "--factors", "feed"], { at: project }),
    ).toMatchObject({
      code: 1,
      complaint:
        "seal-face-usual-feeds is a trial; expected a table such as runs.csv, or a trial with --floor quadrature. A trial's other models are fitted on its review page, by `publish seal-face-usual-feeds`, and in a notebook.",
    });
  });
});
