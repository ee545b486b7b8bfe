import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { runCommand } from "../../src/cli/run.ts";
import { verbs } from "../../src/cli/verbs/index.ts";
import { workedExample } from "../reference/worked-example.ts";
import { listeningTerminal } from "./terminal.ts";

const { columns } = workedExample("textile-3x3x3");
const table = [
  columns.map(({ name }) => name).join(","),
  ...columns[0].values.map((_, i) => columns.map(({ values }) => values[i]).join(",")),
].join("\n");
const call = ["--response", "cycles", "--factors", "length,amplitude,load", "--find-transform"];

async function fit(words: readonly string[], text = table) {
  const folder = await mkdtemp(join(tmpdir(), "trycut-transform-"));
  await writeFile(join(folder, "data.csv"), text);
  const terminal = listeningTerminal(folder);
  const code = await runCommand(["fit", "data.csv", ...words], verbs, terminal);
  return { code, said: terminal.said.join("\n"), complaints: terminal.complaints.join("\n") };
}

// Box and Cox 1964: −0.06, −0.18 to 0.06.
test("--find-transform adds the power with its interval, and the sentence for a person", async () => {
  const { said } = await fit([...call, "--json"]);
  const { transform } = JSON.parse(said) as { transform: { lambda: number; low: number; high: number } };
  expect([transform.lambda, transform.low, transform.high].map((value) => value.toFixed(2))).toEqual([
    "-0.06",
    "-0.18",
    "0.06",
  ]);
  expect((await fit(call)).said).toMatch(/The readings\s+do\s+not\s+object\s+to\s+the\s+logarithm/u);
  expect((await fit([...call.slice(0, -1), "--json"])).said).not.toMatch(/"transform"/u);
});

test("--find-transform is refused on logarithms and on readings of zero, in words", async () => {
  expect(await fit([...call, "--log"])).toMatchObject({
    code: 1,
    complaints: expect.stringMatching(/Leave the logarithm out/u) as string,
  });
  const zero = await fit(
    ["--response", "y", "--factors", "x", "--find-transform"],
    "x,y\n1,2\n2,0\n3,4\n4,6",
  );
  expect(zero).toMatchObject({ code: 1 });
  expect(zero.complaints).toMatch(/run 2: y 0; expected readings above zero/u);
});
