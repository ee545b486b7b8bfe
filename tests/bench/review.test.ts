import { expect, test } from "vitest";
import type { ReviewAnswer, TrialsAnswer } from "../../src/bench/api.ts";
import { answer, withReadTrial, withTrial } from "./trial-under-test.ts";

const address = "/api/trials/seal-face/review";

test("a trial without readings is refused a fit in words, and nothing else breaks", async () => {
  const { get } = await withTrial();
  const review = await answer<ReviewAnswer>(await get(address));
  expect(review.fit).toBeNull();
  expect(review.refusal).toContain("no reading in use of Ra");
});

test("effects are told as sentences with intervals, beside figures and with tables behind", async () => {
  const { get } = await withReadTrial();
  const { fit, asked } = await answer<ReviewAnswer>(await get(address));
  expect(asked).toMatchObject({ response: "Ra", model: "power-law" });
  expect(fit?.why).toContain("power law");
  expect(fit?.sentences.find((sentence) => sentence.includes("feed"))).toMatch(/multiplies Ra by .* \(95 % /);
  expect(fit?.sentences.at(-1)).toMatch(/^Halving the feed multiplies Ra by .*, 95 % .* to /);
  expect(fit?.figures.length).toBeGreaterThanOrEqual(4);
  expect(fit?.checks).toHaveLength(3);
  expect(fit?.tables).toHaveLength(3);
  for (const html of [...(fit?.figures ?? []), ...(fit?.checks ?? [])]) {
    expect(html).toContain("<svg");
    expect(html).not.toMatch(/NaN|<style|\sstyle=/);
  }
});

test("another model and confidence are fitted when they are asked for", async () => {
  const { get } = await withReadTrial();
  const { fit, asked } = await answer<ReviewAnswer>(await get(`${address}?model=interactions&confidence=99`));
  expect(asked.model).toBe("interactions");
  expect(fit?.why).toBe("");
  expect(fit?.sentences[0]).toContain("99 %");
});

test("a recipe takes a limit in any unit", async () => {
  const { get } = await withReadTrial();
  const texts = async (query: string) =>
    (await answer<ReviewAnswer>(await get(`${address}?${query}`))).fit?.recipe.texts ?? [];
  expect((await texts("")).length).toBeGreaterThan(0);
  expect(await texts("limit=0.762")).toEqual(await texts(`limit=${encodeURIComponent("30 µin")}`)); // 30 × 0.0254
});

test("a limit that can't be read is refused in its place, and the effects stay", async () => {
  const { get } = await withReadTrial();
  const { fit } = await answer<ReviewAnswer>(await get(`${address}?limit=smooth`));
  expect(fit?.recipe.refusal).toContain("smooth");
  expect(fit?.sentences.length).toBeGreaterThan(0);
});

test("a confidence that is none is refused in words", async () => {
  const { get } = await withReadTrial();
  for (const confidence of ["0", "100", "-5", "high"]) {
    const review = await answer<ReviewAnswer>(await get(`${address}?confidence=${confidence}`));
    expect(review.fit, confidence).toBeNull();
    expect(review.refusal.length, confidence).toBeGreaterThan(20);
  }
});

test("a remark brings the runs that mend it, and the plan takes them as they are sent back", async () => {
  const { get, post } = await withReadTrial({ replicates: 1 });
  const { remarks } = await answer<ReviewAnswer>(await get(address));
  const mend = remarks.find(({ title }) => title.includes("cut once"));
  expect(mend?.addRuns.length).toBeGreaterThan(0);
  expect(mend?.addColumns).toEqual(["feed", "edge"]);
  expect(mend?.addRows[0]?.[0]).toMatch(/ mm\/rev$/);
  const added = await post("/api/trials/seal-face/runs", { runs: mend?.addRuns });
  expect(await answer(added)).toEqual({ runs: 4 + (mend?.addRuns.length ?? 0) });
});

test("a trial that was looked over is next to be published", async () => {
  const { get, post } = await withReadTrial();
  expect((await post(address, { note: "" })).status).toBe(200);
  const { trials } = await answer<TrialsAnswer>(await get("/api/trials"));
  expect(trials[0]).toMatchObject({ next: { sheet: "finding", text: "Publish" } });
});
