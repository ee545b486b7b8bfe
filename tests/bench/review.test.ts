import { cp } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import type { ReviewAnswer, TrialsAnswer } from "../../src/bench/api.ts";
import { benchUnderTest, newProject } from "./bench-under-test.ts";
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
  // Order, residuals, their distribution, influence; this trial does not say how long a pass takes.
  expect(fit?.checks).toHaveLength(4);
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

test("a model picked in place of the plan's says so, with how far runs left out are missed; the plan's own carries no mark", async () => {
  const { get } = await withReadTrial();
  const picked = await answer<ReviewAnswer>(await get(`${address}?model=interactions`));
  expect(picked.fit?.picked[0]).toBe(
    "This model was chosen as one picked by hand after the readings were in, in place of the plan's (power law); its intervals know nothing of the choice and are too narrow, by how much was not tried out. Prove what matters with further runs.",
  );
  expect(picked.fit?.picked[1]).toMatch(
    /^Leaving out each run in turn, Ra of a run that the model has not seen is missed by 0\.\d+ µm \(root mean square\); the scatter about the model claims 0\.\d+ µm, /u,
  );
  expect(picked.fit?.picked[2]).toMatch(
    /^On the gauge's own scale, runs left out are missed by 0\.\d+ µm by this model and by 0\.\d+ µm by the plan's \(power law\)\.$/u,
  );
  // Said once: neither among the notes nor with the checks again.
  expect(picked.fit?.notes.join(" ")).not.toContain("picked by hand");
  expect(picked.fit?.leftOut).toBe("");
  for (const query of ["", "?model=power-law"]) {
    const { fit } = await answer<ReviewAnswer>(await get(`${address}${query}`));
    expect(fit?.picked, query).toEqual([]);
    expect(fit?.leftOut, query).toMatch(
      /^Leaving out each run in turn, Ra of a run .* is missed by \d\.\d %/u,
    );
  }
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

test("the levels of a category are compared in words and in a figure, with the method behind", async () => {
  const { get } = await withReadTrial();
  const { fit } = await answer<ReviewAnswer>(await get(address));
  expect(fit?.levels).toMatchObject({
    factor: "edge",
    factors: ["edge"],
    control: "",
    alike: null,
    refusal: "",
  });
  // The trial is read as Ra = 4 · feed with a quarter more for a used edge.
  expect(fit?.levels?.sentences).toHaveLength(1);
  expect(fit?.levels?.sentences[0]).toMatch(
    /^With edge used, Ra is 1\.2\d* times that with fresh \(95 %: 1\.\d+ to 1\.\d+, p /u,
  );
  expect(fit?.levels?.figures).toHaveLength(1);
  expect(fit?.levels?.method).toContain("Student");
});

test("levels are alike or not within the margin that is asked for, as a share where the fit is one of ratios", async () => {
  const { get } = await withReadTrial();
  const alike = async (query: string) =>
    (await answer<ReviewAnswer>(await get(`${address}?${query}`))).fit?.levels?.alike;
  const wide = await alike(`margin=${encodeURIComponent("60 %")}`);
  expect(wide?.sentences[0]).toContain("No difference in Ra larger than a factor of 1.6");
  expect(wide?.figures).toHaveLength(1);
  expect(await alike("margin=1.6")).toEqual(wide);
  expect((await alike("margin=wide"))?.refusal).toContain("10 %");
  expect((await alike("margin=0.9"))?.refusal).toContain("above 1");
  const linear = await alike(`model=main&margin=${encodeURIComponent("20 µin")}`);
  expect(linear?.sentences[0]).toContain("0.508 µm"); // 20 × 0.0254
});

test("the scatter is told where passes were cut twice, and left out where none was", async () => {
  const twice = await withReadTrial({ replicates: 2 });
  const { fit } = await answer<ReviewAnswer>(await twice.get(address));
  expect(fit?.scatter?.sentences).toHaveLength(2);
  expect(fit?.scatter?.sentences[0]).toContain("the scatter of Ra");
  const once = await withReadTrial({ replicates: 1 });
  expect((await answer<ReviewAnswer>(await once.get(address))).fit?.scatter).toBeNull();
});

test("a model with a category has a robust second opinion among its notes", async () => {
  const { get } = await withReadTrial();
  const { fit } = await answer<ReviewAnswer>(await get(address));
  expect(fit?.notes.at(-1)).toMatch(/^A robust fit of Ra /u);
});

test("effects, levels, checks and every remark have their method and source behind them", async () => {
  const { get } = await withReadTrial();
  const { fit, remarks } = await answer<ReviewAnswer>(await get(address));
  expect(fit?.methods.effects.join(" ")).toMatch(
    /^Least squares.*Draper and Smith.*Logarithms of the response/s,
  );
  expect(fit?.methods.checks.join(" ")).toMatch(/Lack of fit.*Drift.*Blom 1958.*bisquare/s);
  expect(fit?.levels?.method).not.toBe("");
  expect(fit?.scatter?.method).not.toBe("");
  expect(remarks.length).toBeGreaterThan(0);
  for (const { title, method } of remarks) expect(method, title).not.toBe("");
});

test("levels that scatter unlike are told of where the trial has blocks", async () => {
  const root = fileURLToPath(new URL("../..", import.meta.url));
  const { get } = await benchUnderTest({ root: await copyOf(root, "cover-edge-comparison") });
  const { fit } = await answer<ReviewAnswer>(await get("/api/trials/cover-edge-comparison/review"));
  // The trial is cut in three blocks; the ground edge is the unsteady one.
  expect(fit?.levels?.notes.join(" ")).toMatch(
    /don't scatter alike: .* 3\.\d times as much with ground as with coated/,
  );
});

async function copyOf(root: string, name: string): Promise<string> {
  const project = await newProject();
  await cp(join(root, "experiments", name), join(project, "experiments", name), { recursive: true });
  return project;
}
