import { readFileSync } from "node:fs";
import { cp, mkdir, mkdtemp, rm, symlink, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { layOut } from "../../src/layout/index.ts";
import { createTrial } from "../../src/store/index.ts";
import { parseTrialSpec } from "../../src/trial/index.ts";
import { keepPicture, launchBrowser, offLoopback, openWindow, picturesFolder } from "./browser.ts";
import { startBenchProcess, type BenchProcess } from "./bench-process.ts";

const project = fileURLToPath(new URL("../..", import.meta.url));
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

let browser: Browser;
let root = "";
let bench: BenchProcess;

const hostile = {
  title: `Face <img src=x onerror="window.broken=1">`,
  question: `</script><script>window.broken=1</script>`,
  dataKind: "invented",
  factors: [
    { name: "feed", kind: "quantity", unit: "mm/rev", low: 0.1, high: 0.2 },
    { name: "edge", kind: "category", levels: ["<b>fresh</b>", `"><script>window.broken=1</script>`] },
  ],
  responses: [{ name: "Ra", unit: "µm" }],
  layout: { kind: "factorial", replicates: 2 },
  held: { depth: "0.1 mm", note: `=HYPERLINK("x")` },
};

beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), "trycut-pages-"));
  await mkdir(join(root, "experiments"));
  for (const name of ["seal-face-factorial", "seal-face-feed-sweep", "port-face-coolant"]) {
    await cp(join(project, "experiments", name), join(root, "experiments", name), { recursive: true });
  }
  await cp(join(project, "notebooks"), join(root, "notebooks"), { recursive: true });
  await cp(join(project, "package.json"), join(root, "package.json"));
  await symlink(join(project, "src"), join(root, "src"), "junction");
  await symlink(join(project, "node_modules"), join(root, "node_modules"), "junction");
  const runs = layOut(parseTrialSpec(hostile)).runs;
  await createTrial(join(root, "experiments"), "hostile", hostile, runs, {
    readings: runs.map(({ run }) => ({
      run,
      response: "Ra",
      value: 0.5 + 0.01 * run,
      unit: "µm",
      spot: 1,
      repeat: 1,
      taken: "",
      note: `=cmd("x")<script>window.broken=1</script>`,
      void: "",
    })),
  });
  browser = await launchBrowser();
  bench = await startBenchProcess(root);
});
afterAll(async () => {
  await bench.end();
  await browser.close();
  await rm(root, { recursive: true, force: true });
});

/** Pages of the bench with a text that is there when the page is. */
const pages: readonly (readonly [name: string, address: string, ready: string | RegExp])[] = [
  ["trials", "/trials", "To do next"],
  ["new trial", "/new-trial", "What do you want to know?"],
  ["import of a table", "/import", /table/i],
  ["plan", "/trials/port-face-coolant/plan", "The passes and their order"],
  ["run sheet", "/trials/port-face-coolant/run-sheet", "Before you cut"],
  ["review of the factorial", "/trials/seal-face-factorial/review", "Can the model be believed?"],
  ["review of the sweep", "/trials/seal-face-feed-sweep/review", "moved together"],
  ["grow", "/trials/seal-face-factorial/grow", "Nothing is written before you add them"],
  ["finding", "/trials/seal-face-factorial/finding", "Nothing is published yet"],
  ["import", "/trials/port-face-coolant/import", /column|paste/i],
  ["notebooks", "/notebooks", "analyse-the-sweep"],
  ["a notebook", "/notebooks/analyse-the-sweep", "What these runs can't say"],
  ["a planning notebook", "/notebooks/plan-and-compare", "Two of them beside each other"],
];

async function openPage(width: number, address: string, ready: string | RegExp) {
  const opened = await openWindow(browser, { width, height: 1024 });
  await opened.page.goto(bench.url);
  await opened.page.goto(new URL(address, bench.url).href);
  await opened.page.getByText(ready).first().waitFor();
  return opened;
}

/** Findings of axe that are serious or critical, with where they are. */
async function seriousFindings(page: Page): Promise<readonly string[]> {
  await page.evaluate(axe);
  const { violations } = await page.evaluate<{
    violations: { id: string; impact: string; nodes: { target: string[]; failureSummary: string }[] }[];
  }>("axe.run()");
  return violations
    .filter(({ impact }) => impact === "serious" || impact === "critical")
    .map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(" ")).join(", ")}`);
}

/**
 * Targets too small for gloves: less than 44 px high or wide. A link within a sentence or a table cell is exempt (WCAG 2.2,
 * 2.5.8), as is what only a screen reader meets.
 */
const smallTargets = `[...document.querySelectorAll("button, input, select, textarea, summary, a.button, nav a, header a")]
  .filter((element) => element.offsetParent !== null && !element.classList.contains("skip"))
  .map((element) => [element.textContent.trim() || element.id, element.getBoundingClientRect()])
  .filter(([, box]) => box.height < 43.5 || box.width < 43.5)
  .map(([name, box]) => name + " " + Math.round(box.width) + "×" + Math.round(box.height))`;

describe.each([1280, 768])("at %i px", (width) => {
  test.each(pages)(
    "%s: no serious finding of axe, no sideways scroll, no request off this machine",
    async (name, address, ready) => {
      const { page, requests, complaints, context } = await openPage(width, address, ready);
      await keepPicture(page, `${name.replaceAll(" ", "-")}-${width}`);
      expect(await seriousFindings(page)).toEqual([]);
      const overflow = await page.evaluate<number>("document.documentElement.scrollWidth - innerWidth");
      expect(overflow).toBeLessThanOrEqual(0);
      expect(await page.evaluate<string[]>(smallTargets)).toEqual([]);
      expect(offLoopback(requests)).toEqual([]);
      expect(complaints).toEqual([]);
      await context.close();
    },
  );
});

describe("hostile data", () => {
  test.each(["plan", "run-sheet", "review"])(
    "are shown as text on the %s, and nothing of them runs",
    async (sheet) => {
      const { page, complaints, context } = await openPage(1280, `/trials/hostile/${sheet}`, /Face <img/);
      await page.waitForTimeout(500);
      expect(await page.evaluate("window.broken")).toBeUndefined();
      expect(complaints).toEqual([]);
      await context.close();
    },
  );

  test("are shown as text on the published page, and nothing of them runs", async () => {
    const { page, complaints, context } = await openPage(
      1280,
      "/trials/hostile/finding",
      "Nothing is published yet",
    );
    await page.getByRole("button", { name: "Publish" }).click();
    await page.getByText("What another shop gets").waitFor();
    await page.goto(`file://${join(root, "experiments/hostile/finding/index.html")}`);
    await page.getByText("Face <img").first().waitFor();
    expect(await page.evaluate("window.broken")).toBeUndefined();
    expect(complaints).toEqual([]);
    expect(await seriousFindings(page)).toEqual([]);
    await context.close();
  });
});

describe("print", () => {
  test.each(["A4", "Letter"] as const)("run sheet and finding make PDFs on %s", async (format) => {
    await mkdir(picturesFolder, { recursive: true });
    const { page, context } = await openPage(1280, "/trials/port-face-coolant/run-sheet", "Before you cut");
    const sheet = await page.pdf({ format, preferCSSPageSize: false });
    await writeFile(join(picturesFolder, `run-sheet-${format}.pdf`), sheet);
    expect(sheet.subarray(0, 5).toString()).toBe("%PDF-");
    expect(pagesIn(sheet)).toBeLessThanOrEqual(3);
    await page.goto(new URL("/trials/seal-face-factorial/finding", bench.url).href);
    await page.getByRole("button", { name: /^Publish/ }).click();
    await page.getByText("What another shop gets").waitFor();
    await page.goto(`file://${join(root, "experiments/seal-face-factorial/finding/index.html")}`);
    const finding = await page.pdf({ format, preferCSSPageSize: false });
    await writeFile(join(picturesFolder, `finding-${format}.pdf`), finding);
    expect(pagesIn(finding)).toBeGreaterThanOrEqual(3);
    await context.close();
  });
});

function pagesIn(pdf: Buffer): number {
  return pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
}

describe("a live notebook", () => {
  test("is drawn again after a save, shows an error in its place, and an endless loop is stopped by the button", async () => {
    const { page, context } = await openPage(
      1280,
      "/notebooks/analyse-the-sweep",
      "What these runs can't say",
    );
    const file = join(root, "notebooks/analyse-the-sweep.ts");
    const text = readFileSync(file, "utf8");
    await writeFile(file, text.replace("What these runs can't say", "What they can't say, saved anew"));
    await page.getByText("What they can't say, saved anew").waitFor();

    const broken = text.replace("  page.heading(", '  throw new Error("planted fault");\n  page.heading(');
    await writeFile(file, broken);
    await page.getByText("planted fault").first().waitFor();
    const line = broken.split("\n").findIndex((each) => each.includes("planted fault")) + 1;
    await page
      .getByText(new RegExp(`line ${line}\\b`))
      .first()
      .waitFor();
    await page
      .getByText(/Halving the feed/)
      .first()
      .waitFor();

    await writeFile(file, text.replace("  page.heading(", "  for (;;) {}\n  page.heading("));
    const stop = page.getByRole("button", { name: /^Stop/ });
    await stop.waitFor();
    await stop.click();
    await page
      .getByText(/stopped/i)
      .first()
      .waitFor();
    await page
      .getByText(/Halving the feed/)
      .first()
      .waitFor();
    await context.close();
  });
});
