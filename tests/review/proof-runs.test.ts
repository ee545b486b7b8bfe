import { expect, test } from "vitest";
import { grow } from "../../src/layout/index.ts";
import { remarks } from "../../src/review/index.ts";
import type { Trial } from "../../src/trial/index.ts";
import { madeTrial } from "./made-trial.ts";

const at = { feed: 0.12, speed: 1000, edge: "fresh" };

/** A small trial with 22 proof runs of its recipe, the rule kept as the journal keeps it: at most 0.8 µm, one part may be over. */
function proven(values: readonly number[], more: Partial<Trial> = {}): Trial {
  const trial = madeTrial(
    [0.08, 0.12, 0.17, 0.24].flatMap((feed) =>
      [1000, 2000].map((speed) => ({ settings: { feed, speed, edge: "fresh" }, readings: [0.5] })),
    ),
  );
  const growth = grow(trial, { by: "proof", at, rule: "parts", limit: 0.8, side: "at-most" });
  const [response = { name: "" }] = trial.spec.responses;
  const { by, ...options } = growth.how;
  const from = growth.runs[0]?.run ?? 0;
  return {
    ...trial,
    runs: [...trial.runs, ...growth.runs],
    readings: [
      ...trial.readings,
      ...values.map((value, index) => ({
        run: from + index,
        response: response.name,
        value,
        unit: "µm" as const,
        spot: 1,
        repeat: 1,
        taken: "",
        note: "",
        void: "",
      })),
    ],
    added: [
      {
        from,
        to: from + growth.runs.length - 1,
        at: "2026-03-02T09:30:00Z",
        readingsBefore: 8,
        how: { by, options, says: growth.brings },
      },
    ],
    ...more,
  };
}

const proof = (trial: Trial) => remarks(trial).filter(({ kind }) => kind.startsWith("proof-"));
const good = (count: number) => Array.from({ length: count }, () => 0.6);

test("proof runs pass by the rule decided beforehand, one part over being borne", () => {
  expect(proof(proven([...good(21), 0.9]))).toMatchObject([
    {
      kind: "proof-passed",
      weight: "note",
      title: "The proof of the recipe (runs 9 to 30): Passed: 1 of 22 parts is outside 0.8 µm, and 1 may be.",
    },
  ]);
});

test("they fail as soon as more parts are over than may be, whatever is still to be cut", () => {
  const [remark] = proof(proven([0.9, 0.6, 0.95]));
  expect(remark).toMatchObject({ kind: "proof-failed", weight: "caution" });
  expect(remark?.title).toContain("Failed: 2 of 3 parts are outside 0.8 µm");
});

test("they are open while parts are missing, and nothing is said before the first is read", () => {
  expect(proof(proven(good(21)))[0]).toMatchObject({ kind: "proof-open", weight: "note" });
  expect(proof(proven([]))).toEqual([]);
});

test("the rule stays where it was when the limit of the trial is moved afterwards", () => {
  const trial = proven([...good(20), 0.9, 0.9]);
  const spec = {
    ...trial.spec,
    responses: trial.spec.responses.map((response) => ({ ...response, limit: 2, aim: "larger" as const })),
  };
  expect(proof({ ...trial, spec })[0]?.kind).toBe("proof-failed");
});

test("a part cut otherwise than planned is no proof, and the remark says so", () => {
  const trial = proven(good(22));
  const asCut = [{ run: 12, factor: "feed", value: 0.1, unit: "mm/rev", reason: "wrong feed" }];
  const [remark] = proof({ ...trial, asCut });
  expect(remark?.weight).toBe("caution");
  expect(remark?.evidence).toContain("Cut otherwise than planned: run 12; that is no proof of the recipe.");
});
