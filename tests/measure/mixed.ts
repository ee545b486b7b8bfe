import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { fitMixed, observeTable } from "../../src/model/index.ts";
import { seededRandom } from "../../src/numerics/index.ts";
import { medianMs, type Measured } from "./timing.ts";

/** A split plot of 64 runs in 16 whole plots. Seed 64. */
function splitPlot() {
  const random = seededRandom(64);
  const plots = Array.from({ length: 16 }, () => random.normal());
  const run = Array.from({ length: 64 }, (_, k) => k);
  const edge = run.map((k) => (Math.floor(k / 4) % 2 === 0 ? "fresh" : "used"));
  const feed = run.map((k) => (k % 2 === 0 ? -1 : 1));
  const speed = run.map((k) => (k % 4 < 2 ? -1 : 1));
  const y = run.map((k) => 2 * feed[k] - speed[k] + plots[Math.floor(k / 4)] + random.normal());
  return { plot: run.map((k) => Math.floor(k / 4)), edge, feed, speed, y };
}

/** Seconds of lme4 by the clock and by the processor; null where it is not installed. */
function reference(columns: ReturnType<typeof splitPlot>): readonly [number, number] | null {
  const folder = mkdtempSync(join(tmpdir(), "trycut-measure-"));
  try {
    const file = join(folder, "split.csv");
    const names = Object.keys(columns);
    const rows = columns.y.map((_, k) =>
      Object.values(columns)
        .map((values) => values[k])
        .join(","),
    );
    writeFileSync(file, [names.join(","), ...rows].join("\n"));
    const script = fileURLToPath(new URL("mixed.R", import.meta.url));
    const { status, stdout } = spawnSync("Rscript", [script, file], { encoding: "utf8" });
    if (status !== 0) return null;
    const [elapsed, processor] = stdout.trim().split(" ").map(Number);
    return [elapsed, processor];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

export async function measureMixed(): Promise<readonly Measured[]> {
  const made = splitPlot();
  const table = { columns: Object.entries(made).map(([name, values]) => ({ name, unit: "", values })) };
  const observations = observeTable(table, {
    response: "y",
    factors: ["edge", "feed", "speed"],
    random: ["plot"],
  });
  const fit = () => fitMixed(observations).coefficients;
  for (let k = 0; k < 200; k += 1) fit();
  const ms = await medianMs(60, fit);
  const before = process.cpuUsage();
  for (let k = 0; k < 60; k += 1) fit();
  const { user, system } = process.cpuUsage(before);
  const processorMs = (user + system) / 1000 / 60;
  const seconds = reference(made);
  return [
    {
      what: "REML of a split plot of 64 runs",
      figure: `${ms.toFixed(2)} ms (processor ${processorMs.toFixed(2)} ms)`,
      beside:
        seconds === null
          ? "lme4 is not installed here"
          : `lme4 ${(1000 * seconds[0]).toFixed(1)} ms, processor ${(1000 * seconds[1]).toFixed(1)} ms (${(processorMs / 1000 / seconds[1]).toFixed(2)} of it)`,
      aim: "≤ 0.3 of lme4",
      met: seconds === null ? null : processorMs / 1000 <= 0.3 * seconds[1],
    },
  ];
}
