import { cp, readFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { layOut } from "../../src/layout/index.ts";
import { createTrial, openTrial, record } from "../../src/store/index.ts";
import { parseTrialSpec } from "../../src/trial/index.ts";
import { keepPicture, openWindow } from "./browser.ts";
import { ownBench } from "./own-bench.ts";

const project = fileURLToPath(new URL("../..", import.meta.url));

const spec = parseTrialSpec({
  title: "Cover, edge and feed",
  dataKind: "invented",
  factors: [
    { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.1, high: 0.2 },
    { name: "edge", kind: "category", levels: ["fresh", "used"] },
  ],
  responses: [{ name: "Ra", unit: "µm", limit: 0.8 }],
  layout: { kind: "factorial", replicates: 2, order: "as-listed" },
});

const own = ownBench();

function folderOf(name: string): string {
  return join(own.root, "experiments", name);
}

/** A fresh trial of eight runs, with its run sheet open. */
async function openSheet(name: string): Promise<Page> {
  await createTrial(join(own.root, "experiments"), name, spec, layOut(spec).runs);
  return openAt(`/trials/${name}/run-sheet`, "of 8 readings saved");
}

async function openAt(address: string, ready: string): Promise<Page> {
  const { page } = await openWindow(own.browser);
  await page.goto(own.bench.url);
  await page.goto(new URL(address, own.bench.url).href);
  await page.getByText(ready).first().waitFor();
  return page;
}

const field = (page: Page, run: number) => page.getByRole("textbox", { name: `Run ${run}, Ra in µm` });

const nameOfFocus = (page: Page) =>
  page.evaluate<string>(`document.activeElement.getAttribute("aria-label") ?? ""`);

describe("the run sheet", () => {
  test("Enter moves on, Shift+Enter moves back, and both save", async () => {
    const page = await openSheet("moves");
    await field(page, 3).focus();
    await page.keyboard.type("0.50");
    await page.keyboard.press("Enter");
    await page.getByText("1 of 8 readings saved").waitFor();
    expect(await nameOfFocus(page)).toBe("Run 4, Ra in µm");
    await page.keyboard.type("0.52");
    await page.keyboard.press("Shift+Enter");
    await page.getByText("2 of 8 readings saved").waitFor();
    expect(await nameOfFocus(page)).toBe("Run 2, Ra in µm");
    const { readings } = await openTrial(folderOf("moves"));
    expect(readings.map(({ run, value, text }) => [run, value, text])).toEqual([
      [3, 0.5, "0.50"],
      [4, 0.52, undefined],
    ]);
  });

  test("the state of a reading is announced to who listens", async () => {
    const page = await openSheet("announced");
    await field(page, 1).fill("0.5");
    await field(page, 1).press("Enter");
    await page.getByRole("status").filter({ hasText: "Run 1, Ra: 0.5 µm saved." }).waitFor();
  });

  test("a slip of units is asked about, answered by keyboard, and the next field waits", async () => {
    const page = await openSheet("slip");
    for (const [run, typed] of [
      [1, "0.80"],
      [2, "0.82"],
      [3, "0.79"],
      [4, "31"],
    ] as const) {
      await field(page, run).focus();
      await page.keyboard.type(typed);
      await page.keyboard.press("Enter");
      if (run < 4) await page.getByText(`${run} of 8 readings saved`).waitFor();
    }
    await page
      .getByText(/about 39 times/)
      .first()
      .waitFor();
    await page.waitForFunction(`document.activeElement.textContent === "It is 31 µin"`);
    await keepPicture(page, "run-sheet-question");
    await page.keyboard.press("Enter");
    await page.getByText("31 µin (0.787 µm)", { exact: true }).waitFor(); // 31 × 0.0254
    await page.getByText("4 of 8 readings saved").waitFor();
  });

  test("an outlier is kept only with a reason", async () => {
    const page = await openSheet("outlier");
    const typed = ["0.40", "0.82", "0.49", "1.01", "0.41", "0.80"];
    for (const [index, text] of typed.entries()) {
      await field(page, index + 1).fill(text);
      await field(page, index + 1).press("Enter");
      await page.getByText(`${index + 1} of 8 readings saved`).waitFor();
    }
    await field(page, 7).fill("4.9");
    await field(page, 7).press("Enter");
    await page.getByRole("button", { name: /It is right as it stands/ }).click();
    await page.getByLabel(/why\?/).fill("chatter, heard it");
    await page.keyboard.press("Enter");
    await page.getByText("7 of 8 readings saved").waitFor();
    const { readings } = await openTrial(folderOf("outlier"));
    expect(readings[6]?.note).toBe("kept: chatter, heard it");
  });

  test("a reading is voided with its reason, stays in sight, and is read again", async () => {
    const page = await openSheet("voided");
    await field(page, 1).fill("0.5");
    await field(page, 1).press("Enter");
    await page.getByRole("button", { name: /^Void Run 1/ }).click();
    await page.getByRole("button", { name: "Void it" }).click();
    await page.getByText("Say why in a few words").waitFor();
    await page.getByLabel("Why is it not to be used?").fill("trace on a burr");
    await page.keyboard.press("Enter");
    await page.getByText("not used: trace on a burr").waitFor();
    await field(page, 1).fill("0.47");
    await field(page, 1).press("Enter");
    await page.getByText("1 of 8 readings saved").waitFor();
    const { readings } = await openTrial(folderOf("voided"));
    expect(readings.map(({ value, repeat, void: why }) => [value, repeat, why])).toEqual([
      [0.5, 1, "trace on a burr"],
      [0.47, 2, ""],
    ]);
    await keepPicture(page, "run-sheet-voided");
  });

  test("a run that was cut otherwise shows what was planned and what was cut", async () => {
    const page = await openSheet("otherwise");
    await page.getByRole("button", { name: "Cut otherwise, note … run 2" }).click();
    await page.getByLabel("Was cut at").fill("0.005 in/rev");
    await page.getByLabel("Why", { exact: true }).fill("override left at 80 %");
    await page.getByRole("button", { name: "Note it" }).click();
    await page.getByText("feed cut at 0.127 mm/rev: override left at 80 %").waitFor(); // 0.005 × 25.4
  });

  test("what another program records shows without being asked for, and what is typed here stays", async () => {
    const page = await openSheet("elsewhere");
    await field(page, 2).fill("0.6");
    await record(folderOf("elsewhere"), [{ run: 1, response: "Ra", value: "0.51" }]);
    await page.getByText("0.51 µm").waitFor();
    expect(await field(page, 2).inputValue()).toBe("0.6");
  });

  test("two windows that fill one place lose nothing: the second is told, and keeps what it typed", async () => {
    const first = await openSheet("twice");
    const second = await openAt("/trials/twice/run-sheet", "of 8 readings saved");
    // The second window hears nothing of the first one's reading, as over a network that drops its stream.
    await second.route("**/api/trials/twice/run-sheet", (route) => route.abort());
    await field(first, 1).fill("0.5");
    await field(first, 1).press("Enter");
    await first.getByText("1 of 8 readings saved").waitFor();
    await field(second, 1).fill("0.9");
    await field(second, 1).press("Enter");
    await second
      .getByText(/0.5 µm was recorded here meanwhile/)
      .first()
      .waitFor();
    expect(await field(second, 1).inputValue()).toBe("0.9");
    expect((await openTrial(folderOf("twice"))).readings).toHaveLength(1);
  });

  test("a page with something typed and not saved is not left without a word", async () => {
    const page = await openSheet("leave");
    await field(page, 1).fill("abc");
    await field(page, 1).press("Enter");
    await page
      .getByText(/is not a quantity/)
      .first()
      .waitFor();
    const asked: string[] = [];
    page.on("dialog", (dialog) => {
      asked.push(dialog.message());
      void dialog.dismiss();
    });
    await page.getByRole("link", { name: "Plan" }).click();
    expect(asked[0]).toContain("1 reading is typed and not saved.");
    expect(new URL(page.url()).pathname).toBe("/trials/leave/run-sheet");
  });
});

describe("from review back to the plan", () => {
  test("the runs that a remark wants are added to the plan by its button, and stand on the run sheet", async () => {
    await cp(join(project, "experiments/seal-face-feed-sweep"), folderOf("sweep"), { recursive: true });
    const before = (await openTrial(folderOf("sweep"))).runs.length;
    const page = await openAt("/trials/sweep/review", "moved together");
    const add = page.getByRole("button", { name: "Add these 2 runs to the plan" }).first();
    await add.click();
    // A block of its own takes a fresh edge, and none is left.
    await page
      .getByText(/Run 9 needs edge 3/)
      .first()
      .waitFor();
    await page.getByLabel("To be cut").first().selectOption("Now: the last block goes on");
    await add.click();
    await page.getByRole("link", { name: "Cut them by the run sheet" }).click();
    await page.getByText(`Go to run ${before + 1}`).waitFor();
    const { runs } = await openTrial(folderOf("sweep"));
    expect(runs.slice(before).map(({ role, block }) => [role, block])).toEqual([
      ["added", 1],
      ["added", 1],
    ]);
    expect(await readFile(join(folderOf("sweep"), "plan.csv"), "utf8")).toContain("added");
  });
});
