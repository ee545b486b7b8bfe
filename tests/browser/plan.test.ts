import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { openTrial } from "../../src/store/index.ts";
import { keepPicture, offLoopback, openWindow, picturesFolder } from "./browser.ts";
import { ownBench } from "./own-bench.ts";
import { press, tabTo, typeInto } from "./keyboard.ts";
import { seriousFindings } from "./access.ts";

const own = ownBench();

interface Typed {
  readonly name: string;
  readonly unit: string;
  readonly low: string;
  readonly high: string;
}

async function addQuantity(page: Page, number: number, { name, unit, low, high }: Typed): Promise<void> {
  await press(page, /^Add a quantity/);
  await page.locator(`[id="factors.${number - 1}.name"]:focus`).waitFor();
  await typeInto(page, "Name", name);
  await typeInto(page, "Unit", unit);
  await typeInto(page, "Low", low);
  await typeInto(page, "High", high);
}

/** The form up to what is at stake, by keyboard. */
async function fillForm(page: Page, folder: string, passes = "12"): Promise<void> {
  await page.goto(own.bench.url);
  await page.getByRole("heading", { name: "Trials", exact: true }).waitFor();
  await press(page, "Plan a trial");
  await page.getByRole("heading", { name: "Plan a trial" }).waitFor();
  await page.getByRole("heading", { name: "What do you want to know?" }).waitFor();
  await typeInto(page, /^Title/, "Pump cover, sealing face");
  await typeInto(page, /^Name of the folder/, folder);
  await addQuantity(page, 1, { name: "feed", unit: "mm/rev", low: "0.08", high: "0.24" });
  await addQuantity(page, 2, { name: "speed", unit: "rev/min", low: "1200", high: "2400" });
  await typeInto(page, "Cutter or work diameter", "80 mm");
  await typeInto(page, "Length of a pass", "180 mm");
  await typeInto(page, "Width cut", "60 mm");
  await typeInto(page, "Minutes at hand", "90");
  await typeInto(page, "Passes at hand", passes);
  await typeInto(page, /^Scatter from pass to pass/, "0.05");
  await typeInto(page, "Smallest change worth seeing", "0.15");
}

describe("a plan, by keyboard alone", () => {
  test("is chosen among layouts, compared, committed, and cut in order", async () => {
    const { page, requests, complaints } = await openWindow(own.browser);
    await fillForm(page, "sealing-face");

    // Side by side, one taken with the arrow keys, two compared.
    await press(page, "Show the layouts that fit");
    await page.getByText("Layouts that fit, the best first").waitFor();
    const cards = page.locator(".candidate");
    expect(await cards.count()).toBeGreaterThan(2);
    await tabTo(page, /^1\. /);
    await page.keyboard.press("Space");
    await page.locator(".candidate.taken").first().waitFor();
    await tabTo(page, /^Compare/);
    await page.keyboard.press("Space");
    await page.keyboard.press("Tab");
    await tabTo(page, /^Compare/);
    await page.keyboard.press("Space");
    const beside = page.getByRole("region", { name: "Comparison, line by line" });
    await beside.waitFor();
    expect(await beside.getByRole("row").first().getByRole("columnheader").count()).toBe(3);
    await keepPicture(page, "choose");
    expect(await seriousFindings(page)).toEqual([]);

    const shown = await page.locator(".plan-so-far").textContent();
    expect(shown).toMatch(/passes \d+ of 12/);
    await press(page, "Create the trial");
    await page.getByRole("heading", { name: /plan$/ }).waitFor();
    await page.getByRole("heading", { name: "The runs in cutting order" }).waitFor();
    await keepPicture(page, "plan-committed");
    expect(await seriousFindings(page)).toEqual([]);

    // Cut in order: Enter goes from run to run.
    const trial = await openTrial(join(own.root, "experiments/sealing-face"));
    await press(page, "To the run sheet");
    await page.getByText(`0 of ${trial.runs.length} readings saved`).waitFor();
    await page.getByText(/^Takes \d+ passes/).waitFor();
    expect(await seriousFindings(page)).toEqual([]);
    await tabTo(page, "Run 1, Ra in µm");
    for (const run of trial.runs) {
      const feed = Number(run.settings["feed"]);
      await page.keyboard.type((4 * feed + (run.run % 3) * 0.01).toFixed(2));
      await page.keyboard.press("Enter");
      await page.getByText(`${run.run} of ${trial.runs.length} readings saved`).waitFor();
    }
    const readings = await readFile(join(own.root, "experiments/sealing-face/readings.csv"), "utf8");
    expect(readings.trim().split("\n")).toHaveLength(trial.runs.length + 1);
    expect(offLoopback(requests)).toEqual([]);
    expect(complaints).toEqual([]);
  });

  test("a long search tells how far it is, leaves the bench free, and stops with the best so far", async () => {
    const { page, complaints } = await openWindow(own.browser);
    await fillForm(page, "searched", "40");
    await tabTo(page, "Layout");
    await page.keyboard.type("Optimal");
    await typeInto(page, "Runs", "20");
    await tabTo(page, "To be told");
    await page.keyboard.type("Factors, pairs and curvature");
    await press(page, "More about this layout");
    await typeInto(page, "Starts of the search", "60000");
    await page.getByText(/ of 60,000 starts; best/).waitFor();
    const others = await page.evaluate("fetch('/api/trials').then((answer) => answer.status)");
    expect(others).toBe(200);
    await press(page, "Stop, keep the best so far");
    await page.getByText("The 40 runs in cutting order").waitFor();
    expect(await page.getByText("Searching for the runs.").count()).toBe(0);
    await press(page, "Create the trial");
    await page.getByRole("heading", { name: /plan$/ }).waitFor();
    // Twenty that were searched for, each cut twice.
    expect((await openTrial(join(own.root, "experiments/searched"))).runs).toHaveLength(40);
    expect(complaints).toEqual([]);
  });

  test("a slip is said in the library's words beside its field", async () => {
    const { page } = await openWindow(own.browser);
    await fillForm(page, "slip");
    await tabTo(page, "Layout");
    await page.keyboard.type("Optimal");
    await typeInto(page, "Not to be cut", "not too fast");
    const refusal = page.locator("#layout\\.constraints-refusal");
    await refusal.waitFor();
    expect(await refusal.textContent()).toContain('"not too fast": expected a line such as');
  });
});

describe("on paper and on a tablet", () => {
  test("a run sheet of twelve runs is one sheet on A4 and on Letter, title block and all", async () => {
    const { page } = await openWindow(own.browser);
    await page.goto(own.bench.url);
    await page.goto(new URL("/trials/sealing-face/run-sheet", own.bench.url).href);
    await page.getByText(/readings saved/).waitFor();
    for (const format of ["A4", "Letter"]) {
      const pdf = await page.pdf({ format, path: join(picturesFolder, `run-sheet-${format}.pdf`) });
      expect(pagesOf(pdf), format).toBe(1);
    }
    await page.goto(new URL("/trials/sealing-face/plan", own.bench.url).href);
    await page.getByRole("heading", { name: "The runs in cutting order" }).waitFor();
    for (const format of ["A4", "Letter"]) {
      await page.pdf({ format, path: join(picturesFolder, `plan-${format}.pdf`) });
    }
  });

  test("the form does not scroll sideways at 768 px, and its targets fit a glove", async () => {
    const { page } = await openWindow(own.browser, { width: 768 });
    await fillForm(page, "tablet");
    await press(page, "Show the layouts that fit");
    await page.getByText("Layouts that fit, the best first").waitFor();
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(768);
    const heights = await page
      .locator(".candidate label")
      .evaluateAll((labels) => labels.map((label) => label.getBoundingClientRect().height));
    expect(Math.min(...heights)).toBeGreaterThanOrEqual(44);
    await keepPicture(page, "choose-768");
  });
});

/** Pages are counted in the file's own objects. */
function pagesOf(pdf: Buffer): number {
  return [...pdf.toString("latin1").matchAll(/\/Type\s*\/Page\b(?!s)/g)].length;
}
