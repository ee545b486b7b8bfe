import { describe, expect, test } from "vitest";
import { alignedTable, wrapped } from "../../src/cli/aligned-table.ts";
import { runCommand, type VerbEntry } from "../../src/cli/run.ts";
import { RefusedError } from "../../src/cli/error.ts";
import { listeningTerminal } from "./terminal.ts";

const verb = (run: () => Promise<number>): VerbEntry => ({
  name: "try",
  summary: "a verb for tests",
  load: async () => ({
    name: "try",
    summary: "a verb for tests",
    help: "trycut try FILE",
    options: { size: { type: "string" } },
    words: [1, 1],
    run,
  }),
});
const done = verb(async () => 0);

async function call(words: string[], entry: VerbEntry = done) {
  const terminal = listeningTerminal("/");
  const code = await runCommand(words, [entry], terminal);
  return { code, said: terminal.said, complaints: terminal.complaints };
}

describe("the command line", () => {
  test("a verb's exit code is passed on", async () => {
    expect((await call(["try", "x"])).code).toBe(0);
    expect(
      (
        await call(
          ["try", "x"],
          verb(async () => 1),
        )
      ).code,
    ).toBe(1);
  });

  test("no verb, an unknown verb and an unknown option are wrong usage, exit code 2", async () => {
    expect((await call([])).code).toBe(2);
    expect(await call(["lay"])).toMatchObject({
      code: 2,
      complaints: ['There is no verb "lay". Known: try.'],
    });
    const unknown = await call(["try", "x", "--colour", "red"]);
    expect(unknown.code).toBe(2);
    expect(unknown.complaints[0]).toContain("--colour");
  });

  test("too few or too many words show the usage line", async () => {
    expect(await call(["try"])).toMatchObject({
      code: 2,
      complaints: ["trycut try FILE\nSee `trycut try --help`."],
    });
    expect((await call(["try", "a", "b"])).code).toBe(2);
  });

  test("a refusal is exit code 1 with its message and no stack; --json gets it as JSON too", async () => {
    const refusing = verb(() => Promise.reject(new RefusedError("feed: too high.")));
    expect(await call(["try", "x"], refusing)).toEqual({
      code: 1,
      said: [],
      complaints: ["feed: too high."],
    });
    expect((await call(["try", "x", "--json"], refusing)).said).toEqual(['{"error":"feed: too high."}']);
  });

  test("a verb of a later version is refused by name", async () => {
    expect(await call(["pool"])).toMatchObject({
      code: 1,
      complaints: ['"pool" is not in this version of Trycut yet.'],
    });
  });

  test("--help prints the verb's help", async () => {
    expect(await call(["try", "--help"])).toMatchObject({ code: 0, said: ["trycut try FILE"] });
  });
});

describe("text for people", () => {
  test("a table's numbers stand to the right and its words to the left", () => {
    expect(
      alignedTable(
        ["run", "edge"],
        [
          ["1", "fresh"],
          ["10", "used"],
        ],
      ),
    ).toBe("run  edge\n───  ─────\n  1  fresh\n 10  used");
  });

  test("lines are broken at spaces and never longer than the width", () => {
    expect(wrapped("one two three four", 9)).toBe("one two\nthree\nfour");
    expect(wrapped("holds in 95 % of ± 0.5", 11)).toBe("holds in\n95 % of\n± 0.5");
  });
});
