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

/** The bootstrap as users call it, and how a fit grows with the number of readings. */
export async function measureResample(): Promise<readonly Measured[]> {
  const small = table(32, 10);
  const fit = fitLinear(observeTable(small.table, { response: "y", factors: small.names }));
  const tenThousand = await medianMs(3, () => bootstrap(fit, { draws: 10_000 }));
  let [longest, last] = [0, performance.now()];
  const watch = setInterval(() => {
    longest = Math.max(longest, performance.now() - last - 5);
    last = performance.now();
  }, 5);
  const hundredThousand = await medianMs(1, () => bootstrapInWorkers(fit, { draws: 100_000 }));
  clearInterval(watch);
  const growth: Measured[] = [];
  for (const rows of [1e2, 1e3, 1e4, 1e5, 1e6]) {
    const large = table(rows, 3);
    const started = performance.now();
    const told = fitLinear(observeTable(large.table, { response: "y", factors: large.names }));
    const ms = performance.now() - started;
    growth.push(
      line(
        `table of ${rows.toLocaleString("en")} readings observed and fitted, 4 terms`,
        `${ms.toFixed(0)} ms, ${((1000 * ms) / told.rows.length).toFixed(1)} µs a reading, ${Math.round(process.memoryUsage().rss / 2 ** 20)} MiB`,
      ),
    );
  }
  const wide = table(1000, 299);
  const started = performance.now();
  fitLinear(observeTable(wide.table, { response: "y", factors: wide.names }));
  return [
    line(
      "bootstrap of 32 × 11 as called, 10,000 draws, 10 effects, two intervals each",
      `${tenThousand.toFixed(0)} ms`,
    ),
    line(
      "the same in threads, 100,000 draws",
      `${hundredThousand.toFixed(0)} ms, longest wait of the page ${longest.toFixed(0)} ms`,
    ),
    ...growth,
    line("fit of 300 terms to 1,000 readings", `${(performance.now() - started).toFixed(0)} ms`),
  ];
}
