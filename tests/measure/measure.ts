/* `npm run measure`, or `npm run measure -- analysis recipes` for some of it: one table on this machine, each figure beside a reference of the same run where there is one. Tests never look at it. */
import { cpus, loadavg, totalmem } from "node:os";
import { alignedTable } from "../../src/cli/aligned-table.ts";
import { measureAnalysis } from "./analysis.ts";
import { measureRedraw, measureStart } from "./bench.ts";
import { measureChoosing } from "./choosing.ts";
import { measureImport } from "./import.ts";
import { measureLayouts } from "./layouts.ts";
import { measureJudging } from "./judging.ts";
import { measureMixed } from "./mixed.ts";
import { measureNonlinear } from "./nonlinear.ts";
import { measureRecipes } from "./recipes.ts";
import { measureResample } from "./resample.ts";
import type { Measured } from "./timing.ts";

const measured: Measured[] = [];
const steps: readonly (readonly [string, () => Promise<readonly Measured[]>])[] = [
  ["analysis", measureAnalysis],
  ["mixed", measureMixed],
  ["nonlinear", measureNonlinear],
  ["layouts", measureLayouts],
  ["judging", measureJudging],
  ["recipes", measureRecipes],
  ["resample", measureResample],
  ["choosing", measureChoosing],
  ["import", async () => [await measureImport()]],
  ["start", async () => [await measureStart()]],
  ["redraw", measureRedraw],
];
const wanted = process.argv.slice(2);
const unknown = wanted.filter((name) => !steps.some(([own]) => own === name));
if (unknown.length > 0)
  throw new Error(`${unknown.join(", ")}: expected ${steps.map(([name]) => name).join(", ")}`);
// What else the machine did: with more load than cores, figures beside R still compare, and figures in seconds don't.
const loads = [loadavg()[0]];
for (const [name, step] of steps) {
  if (wanted.length > 0 && !wanted.includes(name)) continue;
  process.stderr.write(`measuring ${name} …\n`);
  measured.push(...(await step()));
  loads.push(loadavg()[0]);
}
const missed = measured.filter(({ met }) => met === false);
console.log(
  [
    `Node ${process.version}, ${cpus().length} cores (${cpus()[0]?.model ?? "unknown"}), ${Math.round(totalmem() / 2 ** 30)} GiB, ${new Date().toISOString().slice(0, 10)}, load ${Math.min(...loads).toFixed(1)} to ${Math.max(...loads).toFixed(1)}`,
    "",
    alignedTable(
      ["what", "measured", "beside", "aim", "met"],
      measured.map(({ what, figure, beside, aim, met }) => [
        what,
        figure,
        beside,
        aim,
        met === null ? "" : met ? "yes" : "no",
      ]),
    ),
    "",
    missed.length === 0 ? "Every aim is met." : `Missed: ${missed.map(({ what }) => what).join("; ")}.`,
  ].join("\n"),
);
