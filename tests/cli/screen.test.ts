import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { workedExample } from "../reference/worked-example.ts";
import { listeningTerminal } from "./terminal.ts";

const { columns } = workedExample("fatigue-plackett-burman-12");
const table = [
  columns.map(({ name }) => name).join(","),
  ...columns[0].values.map((_, row) => columns.map(({ values }) => values[row]).join(",")),
].join("\n");

async function screened(...words: readonly string[]) {
  const folder = await mkdtemp(join(tmpdir(), "trycut-screen-"));
  await writeFile(join(folder, "castings.csv"), table);
  const terminal = listeningTerminal(folder);
  const call = ["fit", "castings.csv", "--response", "log life", "--factors", "A,B,C,D,E,F,G", ...words];
  const code = await runCommand(call, verbs, terminal);
  return { code, said: terminal.said.join("\n"), complaints: terminal.complaints.join("\n") };
}

describe("trycut fit --screen", () => {
  test("adds the models within reach to --json", async () => {
    const { code, said } = await screened("--screen", "weak", "--json");
    expect(code).toBe(0);
    const { screening } = JSON.parse(said) as {
      screening: { withinReach: { models: { labels: string[] }[] }; twoStage: { possible: boolean } };
    };
    // Hamada and Wu, J. Quality Technology 24, 1992: F and F × G.
    expect(screening.withinReach.models[0].labels).toEqual(["F", "F × G"]);
    expect(screening.twoStage.possible).toBe(false);
  });

  test("people read which models do about as well", async () => {
    const { said } = await screened("--screen", "weak");
    expect(said).toContain(
      "4 models do about as well as the best, which is F and F × G; the runs can't tell them apart.",
    );
    expect(said).toMatch(/F, F × G +0\.0 +0\.260 +89 %/);
  });

  test("a rule that there isn't is refused by name", async () => {
    const { code, complaints } = await screened("--screen", "some");
    expect(code).toBe(2);
    expect(complaints).toBe("--screen some: expected one of strong, weak, none.");
  });
});
