import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { performance } from "node:perf_hooks";
import { fileURLToPath } from "node:url";
import { judge, layOut, layOutWithProgress } from "../../src/layout/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { median, medianMs, type Measured } from "./timing.ts";

const coded = (count: number): readonly Factor[] =>
  Array.from({ length: count }, (_, index) => ({
    kind: "quantity",
    name: `x${index + 1}`,
    unit: "1",
    low: -1,
    high: 1,
    scale: "linear",
    change: "easy",
  }));

interface Best {
  readonly name: string;
  readonly logDeterminant: number;
  readonly averageVariance: number;
}

/** Figures of 10,000 starts, made by the script beside them. */
function bestOfMany(name: string): Best {
  const file = new URL("../fixtures/layouts/optimal-best-of-many.json", import.meta.url);
  const { results } = JSON.parse(readFileSync(file, "utf8")) as { results: readonly Best[] };
  const found = results.find((result) => result.name === name);
  if (!found) throw new Error(`no figure for "${name}" in ${fileURLToPath(file)}`);
  return found;
}

/** Seconds of one exchange in R, or the reason why there are none. */
function referenceExchange(): number | string {
  const script = fileURLToPath(new URL("reference-layouts.R", import.meta.url));
  const result = spawnSync("Rscript", [script], { encoding: "utf8" });
  if (result.error || result.status !== 0) return "R is not installed here";
  const seconds = /^exchange ([\d.e-]+)/m.exec(result.stdout)?.[1];
  return seconds === undefined ? "R gave no figure" : Number(seconds);
}

async function measureFractions(): Promise<Measured> {
  const factors = coded(15);
  const ms = await medianMs(7, () => layOut({ factors, layout: { kind: "fraction", runs: 128 } }));
  return {
    what: "minimum-aberration fraction of 15 factors in 128 runs, with its aliases",
    figure: `${ms.toFixed(1)} ms`,
    beside: "",
    aim: "≤ 100 ms",
    met: ms <= 100,
  };
}

/** 100 starts on every core of this machine, timed as somebody waits for them: with the loading of the worker threads. */
async function measureOptimal(criterion: "D" | "I", within: number, reference: number | string) {
  const factors = coded(5);
  const best = bestOfMany(`5 factors, 30 runs, full quadratic, by ${criterion}`);
  const times: number[] = [];
  const processor: number[] = [];
  const shares: number[] = [];
  for (let seed = 1; seed <= 5; seed += 1) {
    const began = performance.now();
    const { user } = process.cpuUsage();
    const { runs } = await layOutWithProgress({
      factors,
      layout: { kind: "optimal", runs: 30, terms: "surface", criterion, starts: 100, seed },
    });
    times.push(performance.now() - began);
    processor.push((process.cpuUsage().user - user) / 1000);
    const { efficiency } = judge(runs, factors, { model: "surface", sigma: 1 });
    // I is told against X′X = n·I, whose mean variance is Σ moments / n = (1 + 5/3 + 10/9 + 1)/30.
    const share =
      criterion === "D"
        ? (efficiency.D * 30) / Math.exp(best.logDeterminant / 21)
        : (efficiency.I * 30 * best.averageVariance) / (1 + 5 / 3 + 10 / 9 + 1);
    shares.push(share);
  }
  const ms = median(times);
  const worst = Math.min(...shares);
  const what = `${criterion}-optimal, 5 factors, 30 runs, 21 terms, 100 starts`;
  return [
    {
      what,
      figure: `${ms.toFixed(0)} ms (${median(processor).toFixed(0)} ms of processor in all threads)`,
      beside:
        typeof reference === "string" || criterion === "I"
          ? String(criterion === "I" ? "" : reference)
          : `R ${(reference * 1000).toFixed(0)} ms for one exchange (a start makes four and a refinement)`,
      aim: "≤ 2000 ms",
      met: ms <= 2000,
    },
    {
      what: `${what}: worst of seeds 1 to 5 beside the best of 10,000 starts`,
      figure: `${(100 * worst).toFixed(2)} %`,
      beside: "10,000 starts, seed 20261125",
      aim: `≥ ${100 * (1 - within)} %`,
      met: worst >= 1 - within,
    },
  ];
}

export async function measureLayouts(): Promise<readonly Measured[]> {
  return [
    await measureFractions(),
    ...(await measureOptimal("D", 0.005, referenceExchange())),
    ...(await measureOptimal("I", 0.01, "")),
  ];
}
