import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { extractData } from "../../src/finding/index.ts";
import { keepPicture, offLoopback, openWindow } from "./browser.ts";
import { startBenchProcess } from "./bench-process.ts";
import { ownBench } from "./own-bench.ts";
import { press, tabTo, typeInto } from "./keyboard.ts";

const own = ownBench();

describe("the whole job, by keyboard alone", () => {
  test("from a new trial to the published page, with no request off this machine", async () => {
    const { page, requests, complaints } = await openWindow(own.browser);
    await page.goto(own.bench.url);

    // Plan
    await page.getByRole("heading", { name: "Trials", exact: true }).waitFor();
    await press(page, "Plan a trial");
    await page.getByRole("heading", { name: "Plan a trial" }).waitFor();
    await page.getByRole("heading", { name: "What do you want to know?" }).waitFor();
    await typeInto(page, /^Title/, "Pump cover, relief face: feed");
    await typeInto(page, /^Name of the folder/, "relief-face");
    await typeInto(page, /^Question/, "How fast may the relief face be fed under 0.8 µm?");
    await typeInto(page, /^Limit/, "0.8");
    await press(page, /^Add a quantity/);
    const factor = page.getByRole("group", { name: "Factor 1" });
    await factor.waitFor();
    // The new factor's name takes the focus; wait for it rather than for a time.
    await page.locator(`[id="factors.0.name"]:focus`).waitFor();
    await typeInto(page, "Name", "feed");
    await typeInto(page, "Unit", "mm/rev");
    await typeInto(page, "Low", "0.1");
    await typeInto(page, "High", "0.2");
    await typeInto(page, /^Scatter from pass to pass/, "0.05");
    await typeInto(page, /^Replicates/, "2");
    await page
      .getByText(/will be known to ±/)
      .first()
      .waitFor();
    await keepPicture(page, "new-trial");
    await press(page, "Create the trial");
    await page.getByRole("heading", { name: /plan$/ }).waitFor();
    await keepPicture(page, "plan");

    // Cut and record: Enter moves on, a unit may be typed, saved is shown
    await press(page, "To the run sheet");
    await page.getByRole("heading", { name: /run sheet$/ }).waitFor();
    const plan = await readFile(join(own.root, "experiments/relief-face/plan.csv"), "utf8");
    const feeds = plan
      .trim()
      .split("\n")
      .slice(1)
      .map((line) => Number(line.split(",")[4]));
    expect(feeds).toHaveLength(4);
    await tabTo(page, "Run 1, Ra in µm");
    const scatter = [0.98, 1.03, 1.02, 0.97];
    for (const [index, feed] of feeds.entries()) {
      await page.keyboard.type(((feed / 0.2) ** 1.2 * scatter[index]).toFixed(2));
      await page.keyboard.press("Enter");
      await page.getByText(`${index + 1} of 4 readings saved`).waitFor();
    }
    await keepPicture(page, "run-sheet");
    const readings = await readFile(join(own.root, "experiments/relief-face/readings.csv"), "utf8");
    expect(readings.trim().split("\n")).toHaveLength(5);

    // Analyse
    await tabTo(page, /Review$/);
    await page.keyboard.press("Enter");
    await page
      .getByText(/Raising feed from 0.1 to 0.2 mm\/rev (raises|multiplies) Ra by/)
      .first()
      .waitFor();
    await keepPicture(page, "review");
    await press(page, "Looked over: on to the finding");

    // Publish
    await page.getByRole("heading", { name: /finding$/ }).waitFor();
    await press(page, "Publish");
    await page.getByRole("heading", { name: "What another shop gets" }).waitFor();
    await keepPicture(page, "finding");
    const html = await readFile(join(own.root, "experiments/relief-face/finding/index.html"), "utf8");
    expect(extractData(html).trial.readings).toHaveLength(4);

    expect(offLoopback(requests)).toEqual([]);
    expect(complaints).toEqual([]);
  });

  test("the published page opens from a file and asks for nothing", async () => {
    const { page, requests, complaints } = await openWindow(own.browser);
    await page.goto(`file://${join(own.root, "experiments/relief-face/finding/index.html")}`);
    await page.getByRole("heading", { level: 1, name: "Pump cover, relief face: feed" }).waitFor();
    expect(
      requests.filter((address) => !address.startsWith("file:") && !address.startsWith("data:")),
    ).toEqual([]);
    expect(complaints).toEqual([]);
  });

  test("a wrong number, a unit slip and an unknown word are answered in their place and nothing is lost", async () => {
    const { page } = await openWindow(own.browser);
    await page.goto(new URL("/trials", own.bench.url).href + new URL(own.bench.url).search);
    await page.goto(new URL("/trials/relief-face/run-sheet", own.bench.url).href);
    await page.getByText("4 of 4 readings saved").waitFor();
    await typeInto(page, /^Readings at each spot/, "2");
    const empty = page.getByRole("textbox", { name: /run 1\b/i }).last();
    await empty.fill("about one");
    await empty.press("Enter");
    await page
      .getByText(/about one/)
      .first()
      .waitFor();
    expect(await empty.inputValue()).toBe("about one");
    await empty.fill("31");
    await empty.press("Enter");
    await page.getByText(/µin/).first().waitFor();
    await keepPicture(page, "unit-slip");
    const readings = await readFile(join(own.root, "experiments/relief-face/readings.csv"), "utf8");
    expect(readings.trim().split("\n")).toHaveLength(5);
  });

  test("readings survive SIGKILL of the server: saved ones are there again, typed ones are kept and can be saved", async () => {
    const before = await readFile(join(own.root, "experiments/relief-face/readings.csv"), "utf8");
    const { page } = await openWindow(own.browser);
    await page.goto(own.bench.url);
    const sheet = "/trials/relief-face/run-sheet?repeats=2";
    await page.goto(new URL(sheet, own.bench.url).href);
    const second = page.getByRole("textbox", { name: "Run 2, Ra, reading 2 in µm" });
    await second.fill("0.44");
    await second.press("Enter");
    await page.getByText("5 of 8 readings saved").waitFor();

    const { port } = own.bench;
    await own.bench.end("SIGKILL");
    const third = page.getByRole("textbox", { name: "Run 3, Ra, reading 2 in µm" });
    await third.fill("0.45");
    await third.press("Enter");
    await page
      .getByText(/The bench does not answer/)
      .first()
      .waitFor();
    expect(await third.inputValue()).toBe("0.45");
    await keepPicture(page, "bench-away");

    // The bench comes back at the same address with another key: the page that is open says so.
    own.bench = await startBenchProcess(own.root, { port });
    expect(own.bench.port).toBe(port);
    await page.getByRole("button", { name: "Save 0.45 again" }).click();
    await page
      .getByText(/The bench was started anew/)
      .first()
      .waitFor();

    await page.goto(own.bench.url);
    await page.goto(new URL(sheet, own.bench.url).href);
    await page.getByText("5 of 8 readings saved").waitFor();
    await page.getByText("Typed before and not saved yet.").waitFor();
    await page.getByRole("button", { name: "Save 0.45 again" }).click();
    await page.getByText("6 of 8 readings saved").waitFor();
    const after = await readFile(join(own.root, "experiments/relief-face/readings.csv"), "utf8");
    for (const line of before.trim().split("\n")) expect(after).toContain(line);
    expect(after.trim().split("\n")).toHaveLength(7);
  });
});
