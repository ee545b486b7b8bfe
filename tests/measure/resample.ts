import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { bootstrapInWorkers, bootstrap, fitLinear, observeTable } from "../../src/model/index.ts";
import { seededRandom } from "../../src/numerics/index.ts";
import { medianMs, type Measured } from "./timing.ts";

/** A table of uniform columns and a response. Seed 32. */
function table(rows: number, columns: number) {
  const random = seededRandom(32);
  const names = Array.from({ length: columns }, (_, k) => `x${k}`);
  const made = names.map((name) => ({
    name,
    unit: "",
    values: Array.from({ length: rows }, () => random.next() * 2 - 1),
  }));
  const values = Array.from({ length: rows }, (_, i) => made[0].values[i] + random.normal());
  return { table: { columns: [...made, { name: "y", unit: "", values }] }, names };
}

const line = (what: string, figure: string): Measured => ({
  what,
  figure,
  beside: "",
  aim: "none",
  met: null,
});

/** Seconds of the same bootstrap in R; null where R is not installed. */
function referenceSeconds({ table: { columns } }: ReturnType<typeof table>): number | null {
  const folder = mkdtempSync(join(tmpdir(), "trycut-measure-"));
  try {
    const file = join(folder, "table.csv");
    const rows = columns[0].values.map((_, i) => columns.map(({ values }) => values[i]).join(","));
    writeFileSync(file, [columns.map(({ name }) => name).join(","), ...rows].join("\n"));
    const script = fileURLToPath(new URL("resample.R", import.meta.url));
    const { status, stdout } = spawnSync("Rscript", [script, file], { encoding: "utf8" });
    return status === 0 ? Number(stdout.trim().split(" ")[1]) : null;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The power of n that times grow with, by least squares on logarithms. */
function exponentOf(points: readonly { readonly rows: number; readonly ms: number }[]): number {
  const x = points.map(({ rows }) => Math.log(rows));
  const y = points.map(({ ms }) => Math.log(ms));
  const centre = (all: readonly number[]) => all.reduce((sum, value) => sum + value, 0) / all.length;
  const [mx, my] = [centre(x), centre(y)];
  return (
    x.reduce((sum, value, i) => sum + (value - mx) * (y[i] - my), 0) /
    x.reduce((sum, value) => sum + (value - mx) ** 2, 0)
  );
}

/** The bootstrap as users call it, and how a fit grows with the number of readings. */
export async function measureResample(): Promise<readonly Measured[]> {
  const small = table(32, 10);
  const fit = fitLinear(observeTable(small.table, { response: "y", factors: small.names }));
  const tenThousand = await medianMs(3, () => bootstrap(fit, { draws: 10_000 }));
  const reference = referenceSeconds(small);
  let [longest, last] = [0, performance.now()];
  const watch = setInterval(() => {
    longest = Math.max(longest, performance.now() - last - 5);
    last = performance.now();
  }, 5);
  const hundredThousand = await medianMs(1, () => bootstrapInWorkers(fit, { draws: 100_000 }));
  clearInterval(watch);
  const growth: Measured[] = [];
  const points: { readonly rows: number; readonly ms: number }[] = [];
  for (const rows of [1e2, 1e3, 1e4, 1e5, 1e6]) {
    const large = table(rows, 3);
    const task = () => fitLinear(observeTable(large.table, { response: "y", factors: large.names }));
    // The smallest are over in a blink: the middle of several.
    const ms = await medianMs(rows > 1e5 ? 1 : rows > 1e3 ? 3 : 41, task);
    points.push({ rows, ms });
    growth.push(
      line(
        `table of ${rows.toLocaleString("en")} readings observed and fitted, 4 terms`,
        `${ms.toFixed(0)} ms, ${((1000 * ms) / rows).toFixed(1)} µs a reading, ${Math.round(process.memoryUsage().rss / 2 ** 20)} MiB`,
      ),
    );
  }
  const wide = table(1000, 299);
  const started = performance.now();
  fitLinear(observeTable(wide.table, { response: "y", factors: wide.names }));
  return [
    {
      what: "bootstrap of 32 × 11 as called, 10,000 draws, 10 effects, two intervals each",
      figure: `${tenThousand.toFixed(0)} ms`,
      beside:
        reference === null
          ? "R is not installed here"
          : `R ${(1000 * reference).toFixed(0)} ms for percentiles alone (${(tenThousand / 1000 / reference).toFixed(2)} of it)`,
      aim: "≤ 0.5 of R",
      met: reference === null ? null : tenThousand / 1000 <= 0.5 * reference,
    },
    line(
      "the same in threads, 100,000 draws",
      `${hundredThousand.toFixed(0)} ms, longest wait of the page ${longest.toFixed(0)} ms`,
    ),
    ...growth,
    line(
      "growth of that with the number of readings n, 10³ to 10⁶",
      `time goes with n to the power ${exponentOf(points.filter(({ rows }) => rows >= 1000)).toFixed(2)} (from 10² on ${exponentOf(points).toFixed(2)})`,
    ),
    line("fit of 300 terms to 1,000 readings", `${(performance.now() - started).toFixed(0)} ms`),
  ];
}
