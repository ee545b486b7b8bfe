import { describe, expect, test } from "vitest";
import type { ReviewAnswer } from "../../src/bench/api.ts";
import type { GrowthAnswer, GrowthPreview } from "../../src/bench/growth-api.ts";
import { answer, withReadTrial } from "./trial-under-test.ts";

const address = "/api/trials/seal-face/growth";
const repeats = { by: "replicate", effect: "feed × edge", runs: "2", block: "last" };

describe("growing a trial on the bench", () => {
  test("says beforehand what can be grown, with scatter and recipe from the readings", async () => {
    const { get } = await withReadTrial();
    const got = await answer<GrowthAnswer>(await get(address));
    expect(got.factors).toEqual(["feed", "edge"]);
    expect(got.sigmaText).toMatch(/^σ = .* µm, the scatter of the readings about main effects/);
    expect(got.recipe).toMatch(/^Feed .* keeps the median of Ra at or below 0.8 µm/);
    expect(got.folds[0]).toMatch(/^Fold all factors: nothing is freed/);
  });

  test("shows the runs and what they bring, and adds them as they were shown", async () => {
    const { get, post } = await withReadTrial();
    const preview = await answer<GrowthPreview>(await post(address, repeats));
    expect(preview.columns).toEqual(["Run", "Block", "Why", "feed", "edge"]);
    expect(preview.rows.map(([run]) => run)).toEqual(["9", "10"]);
    expect(preview.brings[0]).toMatch(/^The effect of feed × edge: ± .* µm becomes ± .* µm with 2 runs/);
    expect(preview.onto).toBe(8);
    const added = await post(`${address}/runs`, { form: repeats, onto: preview.onto });
    expect([added.status, await answer(added)]).toEqual([201, { added: 2 }]);
    const sheet = await answer<{ readonly runs: readonly { readonly run: number }[] }>(
      await get("/api/trials/seal-face/run-sheet"),
    );
    expect(sheet.runs.map(({ run }) => run)).toContain(10);
    const { remarks } = await answer<ReviewAnswer>(await get("/api/trials/seal-face/review"));
    expect(remarks.map(({ title }) => title)).toContain(
      "Runs 9 to 10 were added after 8 readings had been taken (replicate, seed 1).",
    );
  });

  test("refuses runs that were shown for a plan that has changed since", async () => {
    const { post } = await withReadTrial();
    expect((await post(`${address}/runs`, { form: repeats, onto: 8 })).status).toBe(201);
    const again = await post(`${address}/runs`, { form: repeats, onto: 8 });
    expect(again.status).toBe(409);
    expect((await answer<{ error: string }>(again)).error).toContain(
      "The plan has 10 runs, and had 8 when these were shown",
    );
  });

  test("refuses what can't be read or brings nothing, in words", async () => {
    const { post } = await withReadTrial();
    const error = async (form: object) => {
      const response = await post(address, form);
      expect(response.status).toBe(422);
      return (await answer<{ error: string }>(response)).error;
    };
    expect(await error({ by: "fold" })).toContain("frees nothing");
    expect(await error({ by: "separate", between: "" })).toContain(
      "expected two, such as depth = feed × speed",
    );
    expect(await error({ by: "replicate", effect: "feed", runs: "few" })).toBe(
      'Runs: "few" is not a number. Write one such as "0.8", "0,8", "1 000" or "3/8".',
    );
    expect(await error({ by: "axial" })).toContain("axial runs need two quantities or more");
    expect((await post(address, { by: "magic" })).status).toBe(400);
  });

  test("proves the recipe by a rule with both chances", async () => {
    const { post } = await withReadTrial();
    const preview = await answer<GrowthPreview>(
      await post(address, { by: "proof", rule: "parts", failGood: "10" }),
    );
    expect(preview.rows.every((row) => row[2] === "proof")).toBe(true);
    expect(preview.brings[0]).toMatch(/^Cut \d+ parts at the recipe's setting: it passes if/);
    expect(preview.brings[1]).toMatch(/^A good recipe .* fails with chance/);
  });
});
