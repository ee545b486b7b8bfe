import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";

const root = fileURLToPath(new URL("../..", import.meta.url));
const tool = fileURLToPath(
  new URL("../../node_modules/dependency-cruiser/bin/dependency-cruise.mjs", import.meta.url),
);

function cruise(...folders: string[]) {
  const result = spawnSync(
    process.execPath,
    [tool, ...folders, "--config", ".dependency-cruiser.cjs", "--output-type", "json"],
    { cwd: root, encoding: "utf8", maxBuffer: 1e8 },
  );
  const report = JSON.parse(result.stdout) as {
    summary: { violations: { rule: { name: string }; from: string; to: string }[]; totalCruised: number };
  };
  return report.summary;
}

describe("the house", () => {
  test("no file imports up a floor, round a circle, or past a door", () => {
    const { violations, totalCruised } = cruise("src", "notebooks");
    expect(violations.map(({ rule, from, to }) => `${rule.name}: ${from} imports ${to}`)).toEqual([]);
    expect(totalCruised).toBeGreaterThan(20);
  });

  test("planted faults of all three kinds are found", () => {
    const found = new Set(cruise("tests/house/planted/src").violations.map(({ rule }) => rule.name));
    expect([...found].sort()).toEqual([
      "floor-1-imports-nothing-above",
      "no-circle",
      "only-through-the-door",
    ]);
  });
});
