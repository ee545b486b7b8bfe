import { copyFile, cp, mkdtemp, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { performance } from "node:perf_hooks";
import { fileURLToPath } from "node:url";
import { createRunner, watchPage } from "../../src/notebook/index.ts";
import { launchBrowser, openWindow } from "../browser/browser.ts";
import { startBenchProcess } from "../browser/bench-process.ts";
import { median, type Measured } from "./timing.ts";

const project = fileURLToPath(new URL("../..", import.meta.url));

/** From starting the program to a page in the browser that lists the trials; the browser itself is open already. */
export async function measureStart(): Promise<Measured> {
  const browser = await launchBrowser();
  const times: number[] = [];
  try {
    for (let index = 0; index < 3; index += 1) {
      const { page, context } = await openWindow(browser);
      const start = performance.now();
      const bench = await startBenchProcess(project);
      await page.goto(bench.url);
      await page.getByRole("heading", { name: "Trials" }).waitFor();
      await page.getByText("seal face").first().waitFor();
      times.push(performance.now() - start);
      await bench.end();
      await context.close();
    }
  } finally {
    await browser.close();
  }
  const ms = median(times);
  return {
    what: "cold start to usable page (median of 3)",
    figure: `${ms.toFixed(0)} ms`,
    beside: "",
    aim: "≤ 2,000 ms",
    met: ms <= 2000,
  };
}

/** A project of its own with the demo trials and notebooks, so that nothing of the real one is written to. */
async function copiedProject(): Promise<string> {
  const root = await mkdtemp(join(tmpdir(), "trycut-measure-"));
  await cp(join(project, "experiments"), join(root, "experiments"), { recursive: true });
  await cp(join(project, "notebooks"), join(root, "notebooks"), { recursive: true });
  await copyFile(join(project, "package.json"), join(root, "package.json"));
  await copyFile(join(project, "tsconfig.json"), join(root, "tsconfig.json"));
  await symlink(join(project, "src"), join(root, "src"), "junction");
  await symlink(join(project, "node_modules"), join(root, "node_modules"), "junction");
  return root;
}

/** From saving a notebook's file to its page run again, 20 times; and the memory that the process holds afterwards. */
export async function measureRedraw(): Promise<readonly Measured[]> {
  const root = await copiedProject();
  const runner = createRunner({ root });
  const file = join(root, "notebooks/analyse-the-sweep.ts");
  try {
    await runner.warm();
    let drawn: (at: number) => void = () => undefined;
    const nextDrawn = () => new Promise<number>((resolve) => (drawn = resolve));
    const first = nextDrawn();
    const watched = watchPage(runner, file, { onPage: () => drawn(performance.now()) });
    await first;
    const text = await readFile(file, "utf8");
    const times: number[] = [];
    for (let index = 0; index < 20; index += 1) {
      await runner.warm();
      await new Promise((resolve) => setTimeout(resolve, 300));
      const page = nextDrawn();
      await writeFile(file, `${text}\n// ${index}\n`);
      const start = performance.now();
      times.push((await page) - start);
    }
    watched.close();
    const ms = median(times);
    const memory = process.memoryUsage.rss() / 2 ** 20;
    return [
      {
        what: "save to redrawn page (median of 20)",
        figure: `${ms.toFixed(0)} ms`,
        beside: `slowest ${Math.max(...times).toFixed(0)} ms`,
        aim: "≤ 100 ms",
        met: ms <= 100,
      },
      {
        what: "memory of a process with the runner and its spare",
        figure: `${memory.toFixed(0)} MiB`,
        beside: "",
        aim: "none",
        met: null,
      },
    ];
  } finally {
    await runner.close();
    await rm(root, { recursive: true, force: true });
  }
}
