import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { judge, layOut } from "../../src/layout/index.ts";
import type { Term } from "../../src/model/index.ts";
import type { Factor } from "../../src/trial/index.ts";
import { medianMs, type Measured } from "./timing.ts";

/** 128 runs of a fraction of 11 factors. */
const names = [..."ABCDEFGHJKL"];
const factors: readonly Factor[] = names.map((name) => ({
  kind: "quantity",
  name,
  unit: "1",
  low: -1,
  high: 1,
  scale: "linear",
  change: "easy",
}));

function seconds(runs: ReturnType<typeof layOut>["runs"]): number | string {
  const folder = mkdtempSync(join(tmpdir(), "trycut-measure-"));
  try {
    const file = join(folder, "design.csv");
    // Ten factors: 55 terms and the mean, the same algebra.
    const own = names.slice(0, 10);
    const rows = runs.map(({ settings }) => own.map((name) => settings[name]).join(","));
    writeFileSync(file, [own.join(","), ...rows].join("\n"));
    const script = fileURLToPath(new URL("judging.R", import.meta.url));
    const result = spawnSync("Rscript", [script, file], { encoding: "utf8" });
    if (result.error || result.status !== 0) return "R is not installed here";
    return Number(result.stdout.trim().split(" ")[1]);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Judging 128 runs × 60 terms: everything that a judgement holds, as every run set up anew and as a split plot. */
export async function measureJudging(): Promise<readonly Measured[]> {
  const { runs } = layOut({ factors, layout: { kind: "fraction", runs: 128, order: "as-listed" } });
  const products = names.flatMap((one, place) =>
    names.slice(place + 1).map((other): Term => ({ [one]: 1, [other]: 1 })),
  );
  const terms = [...names.map((name): Term => ({ [name]: 1 })), ...products].slice(0, 60);
  const options = { terms, sigma: 1, effect: 0.5 };
  const task = () => judge(runs, factors, options);
  for (let index = 0; index < 20; index += 1) task();
  const ms = await medianMs(15, task);
  const hard = factors.map((factor, place) => (place < 2 ? { ...factor, change: "hard" as const } : factor));
  const plots = layOut({ factors: hard, layout: { kind: "fraction", runs: 128, wholePlots: 16 } }).runs;
  const splitMs = await medianMs(15, () => judge(plots, hard, options));
  const beside = seconds(runs);
  return [
    {
      what: "judging 128 runs × 60 terms (median of 15)",
      figure: `${ms.toFixed(1)} ms`,
      beside:
        typeof beside === "string" ? beside : `R ${(beside * 1000).toFixed(1)} ms for 56 columns, less of it`,
      aim: "≤ 20 ms",
      met: ms <= 20,
    },
    {
      what: "the same as a split plot of 16 set-ups",
      figure: `${splitMs.toFixed(1)} ms`,
      beside: "",
      aim: "≤ 20 ms",
      met: splitMs <= 20,
    },
  ];
}
