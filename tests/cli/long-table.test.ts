import { spawn } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { readDataTable } from "../../src/cli/read-file.ts";
import { formatNumber } from "../../src/units/index.ts";

const lines = 200_000;
const table = [
  "feed,Ra",
  ...Array.from({ length: lines }, (_, i) => `${0.1 + 0.01 * (i % 5)},${i % 7}`),
].join("\n");

test("of a long table it is said that it takes a while, and that Ctrl-C ends it", async () => {
  const folder = await mkdtemp(join(tmpdir(), "trycut-long-"));
  await writeFile(join(folder, "long.csv"), table);
  const said: string[] = [];
  const read = await readDataTable("long.csv", { folder, error: (text) => said.push(text) });
  expect(read.rows).toBe(lines);
  expect(said).toEqual([
    `${formatNumber(lines)} lines read; working on them may take a minute. Ctrl-C ends it.`,
  ]);
  await rm(folder, { recursive: true });
});

// Windows has no signals to send: a program is ended there outright.
test.skipIf(process.platform === "win32")(
  "Ctrl-C ends a long fit in the middle of it",
  async () => {
    const folder = await mkdtemp(join(tmpdir(), "trycut-long-"));
    const file = join(folder, "long.csv");
    await writeFile(file, table);
    const fit = spawn(
      process.execPath,
      ["--import", "tsx", "src/cli/main.ts", "fit", file, "--response", "Ra", "--factors", "feed"],
      { stdio: ["ignore", "pipe", "pipe"] },
    );
    let told = "";
    fit.stdout.on("data", (part: Buffer) => (told += part.toString()));
    fit.stderr.once("data", () => fit.kill("SIGINT"));
    const ended = await new Promise<NodeJS.Signals | null>((resolve) =>
      fit.on("close", (_, signal) => resolve(signal)),
    );
    expect(ended).toBe("SIGINT");
    expect(told).toBe("");
    await rm(folder, { recursive: true });
  },
  120_000,
);
