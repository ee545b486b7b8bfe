import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { remarkMethod } from "../../src/review/index.ts";

test("every kind of remark has its method", () => {
  const folder = new URL("../../src/review/", import.meta.url);
  const kinds = readdirSync(folder)
    .filter((file) => file !== "context.ts")
    .flatMap((file) =>
      [...readFileSync(new URL(file, folder), "utf8").matchAll(/\bkind: "([a-z-]+)",\s+weight:/g)].map(
        ([, kind]) => kind,
      ),
    );
  expect(new Set(kinds).size).toBeGreaterThan(15);
  for (const kind of [...kinds, "proof-passed", "proof-failed", "proof-open"])
    expect(remarkMethod({ kind }), kind).not.toBe("");
});
