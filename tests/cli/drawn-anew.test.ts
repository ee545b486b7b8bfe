import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import {
  bootstrap,
  crossValidate,
  fitLinear,
  main,
  observeTable,
  permutationTest,
} from "../../src/model/index.ts";
import { listeningTerminal } from "./terminal.ts";

/** Ten invented passes: feed and edge do something, speed next to nothing. */
const feed = [0.08, 0.24, 0.08, 0.24, 0.08, 0.24, 0.08, 0.24, 0.16, 0.16];
const speed = [800, 800, 1250, 1250, 800, 800, 1250, 1250, 1000, 1000];
const edge = ["new", "new", "new", "new", "used", "used", "used", "used", "new", "used"];
const day = [1, 1, 1, 1, 1, 2, 2, 2, 2, 2];
const ra = [0.31, 1.22, 0.29, 1.15, 0.44, 1.52, 0.39, 1.48, 0.66, 0.83];
const factors = ["feed", "speed", "edge"];

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "trycut-drawn-"));
  const lines = feed.map((_, i) => [feed[i], speed[i], edge[i], day[i], ra[i]].join(","));
  await writeFile(
    join(folder, "runs.csv"),
    ["feed [mm/rev],speed [rev/min],edge,day,Ra [µm]", ...lines].join("\n"),
  );
});

const call = ["fit", "runs.csv", "--response", "Ra", "--factors", factors.join(",")];

async function fitted(...words: readonly string[]) {
  const terminal = listeningTerminal(folder);
  const code = await runCommand([...call, ...words], verbs, terminal);
  return {
    code,
    said: terminal.said.join("\n").replaceAll(/\s+/g, " "),
    json: words.includes("--json") ? (JSON.parse(terminal.said.join("\n")) as Record<string, never>) : {},
    complaints: terminal.complaints.join("\n"),
  };
}

const columns = [
  { name: "feed", unit: "mm/rev", values: feed },
  { name: "speed", unit: "rev/min", values: speed },
  { name: "edge", unit: "", values: edge },
  { name: "Ra", unit: "µm", values: ra },
];
const fit = fitLinear(observeTable({ columns }, { response: "Ra", factors }));

describe("trycut fit draws, shuffles and leaves out", () => {
  test("--json gives what the library gives for the same seed", async () => {
    const { code, json } = await fitted(
      ...["--draws", "500", "--shuffles", "199", "--leave-out", "5", "--seed", "7", "--json"],
    );
    expect(code).toBe(0);
    const drawn = bootstrap(fit, { draws: 500, seed: 7 });
    expect(json["bootstrap"]).toMatchObject({ draws: 500, seed: 7, by: "residuals", stopped: false });
    const told = (json["bootstrap"] as { figures: { estimate: number; percentile: object }[] }).figures;
    drawn.figures.forEach(({ estimate, percentile }, k) => {
      expect(told[k].estimate).toBe(estimate);
      expect(percentile).toMatchObject(told[k].percentile);
    });
    expect(
      (json["permutations"] as { label: string; p: number }[]).map(({ label, p }) => [label, p]),
    ).toEqual(
      [undefined, ...factors].map((factor) => {
        const { label, p } = permutationTest(fit, {
          draws: 199,
          seed: 7,
          ...(factor === undefined ? {} : { term: main(factor) }),
        });
        return [label, p];
      }),
    );
    expect(json["crossValidation"]).toEqual(
      JSON.parse(JSON.stringify(crossValidate(fit, { leave: 5, seed: 7 }))),
    );
  });

  test("people read intervals beside those above, and a sentence for each test", async () => {
    const { said } = await fitted("--draws", "500", "--shuffles", "199", "--leave-out", "run");
    expect(said).toContain("By drawing anew, beside the intervals above:");
    expect(said).toContain("500 draws of residuals of runs, seed 1.");
    expect(said).toContain("By letting runs change places: - If all terms together did nothing to Ra");
    expect(said).toContain(crossValidate(fit).sentence);
    expect(said).not.toMatch(/NaN|undefined|null/);
  });

  test("--whole-runs draws runs with their settings; --leave-out block leaves out whole days", async () => {
    const { said } = await fitted("--draws", "300", "--whole-runs", "--block", "day", "--leave-out", "block");
    expect(said).toContain("300 draws of whole runs, each block by itself, seed 1.");
    expect(said).toContain("Leaving out each block in turn");
  });

  test("after a screening the whole choice is made anew, and the fit of the best model says by how much it widens", async () => {
    const { said } = await fitted("--screen", "weak", "--draws", "300", "--leave-out", "run");
    expect(said).toMatch(/The best of them, fitted with the factors of its products: - Raising feed/);
    expect(said).toMatch(/with the choice made anew in drawn trials they come out [\d.]+ times as wide/);
    expect(said).toContain("300 trials drawn about the models within reach, seed 1");
    expect(said).toMatch(
      /Runs left out of the choice: - With the choice made anew, runs left out are missed/,
    );
    const { json } = await fitted("--screen", "weak", "--draws", "300", "--leave-out", "run", "--json");
    const { screening, choice, choiceValidation } = json as unknown as {
      screening: { fit: { notes: string[] } };
      choice: { widening: number; figures: { low: number; high: number }[] };
      choiceValidation: { parts: number; how: { widening: number } };
    };
    expect(screening.fit.notes.at(-1)).toContain("This model was chosen as one of");
    expect(choice.figures).toHaveLength(3);
    expect(choiceValidation.parts).toBe(10);
    expect(choiceValidation.how.widening).toBeGreaterThanOrEqual(1);
  });

  test("--chosen puts its words into the fit", async () => {
    const { json } = await fitted("--chosen", "the best of five", "--json");
    expect((json["notes"] as string[]).at(-1)).toMatch(/^This model was chosen as the best of five;/);
    const { said } = await fitted("--model", "surface", "--find-transform");
    expect(said).toMatch(/To fit on the scale offered, .* --chosen "the scale that these same readings/);
  });
});

describe("a stop", () => {
  test("while drawing: it says how far it is, ends whole, and says how far it came", async () => {
    const stop = new AbortController();
    const terminal = listeningTerminal(folder);
    let seconds = 0;
    const code = await runCommand([...call, "--draws", "1000000", "--json"], verbs, {
      ...terminal,
      signal: stop.signal,
      now: () => new Date(Date.UTC(2026, 10, 25, 10, 0, (seconds += 3))),
      error: (text) => {
        terminal.error(text);
        stop.abort();
      },
    });
    expect(code).toBe(0);
    expect(terminal.complaints[0]).toMatch(/^[\d,]+ of 1,000,000 draws\. Ctrl-C stops with those so far\.$/);
    const { bootstrap: told } = JSON.parse(terminal.said.join("\n")) as {
      bootstrap: { stopped: boolean; draws: number; notes: string[] };
    };
    expect(told.stopped).toBe(true);
    expect(told.draws).toBeLessThan(1_000_000);
    expect(told.notes[1]).toBe(
      "Stopped before all of 1000000 were drawn; the figures are of those that were.",
    );
  });

  test("before anything was drawn: the reason stands in each interval's place", async () => {
    const stop = new AbortController();
    stop.abort();
    const terminal = listeningTerminal(folder);
    const words = [...call, "--screen", "weak", "--draws", "2000", "--shuffles", "199", "--leave-out", "run"];
    const code = await runCommand(words, verbs, { ...terminal, signal: stop.signal });
    expect(code).toBe(0);
    const said = terminal.said.join("\n").replaceAll(/\s+/g, " ");
    expect(said).toContain("stopped after 0 draws, which are too few for an interval");
    expect(said).toContain("No test of feed by changing places: stopped after 0 draws, which are too few.");
    expect(said).toContain("Stopped with 0 parts left out");
    expect(said).not.toMatch(/NaN|undefined/);
  });
});

describe("what can't be meant is refused by name", () => {
  test.each([
    [["--draws", "12"], "--draws 12: expected a whole number from 200 to 1,000,000."],
    [["--draws", "many"], "--draws many: expected a whole number from 200 to 1,000,000."],
    [["--shuffles", "1.5"], "--shuffles 1.5: expected a whole number from 99 to 1,000,000."],
    [
      ["--leave-out", "reading"],
      "--leave-out reading: expected run, block, or a number of parts from 2, such as 5.",
    ],
    [["--leave-out", "1"], "--leave-out 1: expected run, block, or a number of parts from 2, such as 5."],
    [
      ["--draws", "500", "--seed", "-1"],
      "--seed -1: expected a whole number from 0 to 9,007,199,254,740,991.",
    ],
    [["--seed", "3"], "--seed goes with --draws, --shuffles or --leave-out in a number of parts."],
    [["--whole-runs"], "--whole-runs goes with --draws: how many draws to make, such as 10000."],
    [
      ["--whole-runs", "--draws", "500", "--screen", "weak"],
      "--whole-runs does not go with --screen: the settings stay when a model is chosen anew.",
    ],
    [["--chosen", " "], '--chosen is empty: say how, such as "the best of five models".'],
  ])("%s", async (words, complaint) => {
    // A sign before a number is read as an option, unless it is joined on.
    const joined = words.join(" ").includes("-1") ? ["--draws", "500", "--seed=-1"] : words;
    const { code, complaints } = await fitted(...joined);
    expect({ code, complaints }).toEqual({ code: 2, complaints: complaint });
  });

  test("draws of a fit with random sources, and more parts than runs", async () => {
    const mixed = await fitted("--random", "day", "--draws", "500");
    expect(mixed.code).toBe(1);
    expect(mixed.complaints).toMatch(/draws of a fit with random sources/);
    const parts = await fitted("--leave-out", "11");
    expect(parts.code).toBe(1);
    expect(parts.complaints).toMatch(/10 runs to leave out in 11 parts/);
  });
});

describe("trycut compare --shuffles", () => {
  const compared = async (...words: readonly string[]) => {
    const terminal = listeningTerminal(folder);
    const code = await runCommand(
      ["compare", "runs.csv", "--response", "Ra", "--factor", "edge", ...words],
      verbs,
      terminal,
    );
    return { code, said: terminal.said.join("\n"), complaints: terminal.complaints.join("\n") };
  };

  test("tests all levels together, with the other factors allowed for", async () => {
    const words = ["--also", "feed,speed", "--shuffles", "199", "--seed", "4"];
    const { said } = await compared(...words, "--json");
    const edgeFirst = observeTable({ columns }, { response: "Ra", factors: ["edge", "feed", "speed"] });
    const expected = permutationTest(fitLinear(edgeFirst), { term: main("edge"), draws: 199, seed: 4 });
    expect((JSON.parse(said) as { permutation: unknown }).permutation).toEqual(
      JSON.parse(JSON.stringify(expected)),
    );
    const people = await compared(...words);
    expect(people.said.replaceAll(/\s+/g, " ")).toContain(expected.sentence);
  });

  test.each([
    [["--shuffles", "0"], "--shuffles 0: expected a whole number from 99 to 1,000,000."],
    [["--seed", "2"], "--seed goes with --shuffles: how many orders to try."],
    [
      ["--shuffles", "999", "--unequal"],
      "--shuffles does not go with --unequal: runs that change places must scatter alike.",
    ],
  ])("%s is refused", async (words, complaint) => {
    expect(await compared(...words)).toEqual({ code: 2, said: "", complaints: complaint });
  });
});
