import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { fitLinear, observeTable } from "../../src/model/index.ts";
import { leastSquares, refitter, seededRandom } from "../../src/numerics/index.ts";
import { medianMs, type Measured } from "./timing.ts";

const rows = 480;
const columns = 15;

/** The same numbers for both programs: 480 rows of 15 uniform columns and a response; 32 × 11 with 200 responses. Seed 480. */
function data() {
  const random = seededRandom(480);
  const x = Array.from({ length: columns }, () => Array.from({ length: rows }, () => random.next() * 2 - 1));
  const y = Array.from(
    { length: rows },
    (_, row) => x.reduce((sum, column, k) => sum + column[row] * (k % 4), 0) + random.normal(),
  );
  const design = Array.from({ length: 11 }, (_, k) =>
    Float64Array.from({ length: 32 }, () => (k === 0 ? 1 : random.normal())),
  );
  const responses = Array.from({ length: 200 }, () =>
    Float64Array.from({ length: 32 }, () => random.normal()),
  );
  return { x, y, design, responses };
}

type Data = ReturnType<typeof data>;

const csv = (names: readonly string[], values: readonly ArrayLike<number>[]) =>
  [
    names.join(","),
    ...Array.from({ length: values[0].length }, (_, row) => values.map((column) => column[row]).join(",")),
  ].join("\n");

/** Seconds of R by task, or the reason why there are none. */
function referenceSeconds({ x, y, design, responses }: Data): ReadonlyMap<string, number> | string {
  const folder = mkdtempSync(join(tmpdir(), "trycut-measure-"));
  try {
    const file = (name: string, text: string) => {
      writeFileSync(join(folder, name), text);
      return join(folder, name);
    };
    const script = fileURLToPath(new URL("reference.R", import.meta.url));
    const result = spawnSync(
      "Rscript",
      [
        script,
        file("analysis.csv", csv([...x.map((_, k) => `x${k}`), "y"], [...x, y])),
        file(
          "responses.csv",
          csv(
            responses.map((_, k) => `r${k}`),
            responses,
          ),
        ),
        file(
          "design.csv",
          csv(
            design.map((_, k) => `c${k}`),
            design,
          ),
        ),
      ],
      { encoding: "utf8" },
    );
    if (result.error || result.status !== 0) return "R is not installed here";
    return new Map(
      result.stdout
        .trim()
        .split("\n")
        .map((line) => line.trim().split(" "))
        .map(([name, seconds]) => [name, Number(seconds)] as const),
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

export async function measureAnalysis(): Promise<readonly Measured[]> {
  const made = data();
  const names = made.x.map((_, k) => `x${k}`);
  const table = {
    columns: [
      ...names.map((name, k) => ({ name, unit: "", values: made.x[k] })),
      { name: "y", unit: "", values: made.y },
    ],
  };
  const observations = observeTable(table, { response: "y", factors: names });
  const analyse = () => {
    const fit = fitLinear(observations);
    return [fit.coefficients, fit.analysis, fit.analysisLast, fit.rows, fit.effects];
  };
  // R times its compiled code; two hundred rounds let Node compile ours.
  for (let index = 0; index < 200; index += 1) analyse();
  const analysisMs = await medianMs(40, analyse);
  const refitsMs = await medianMs(3, () => {
    const { refit } = refitter(made.design.map((high) => ({ high })));
    for (let k = 0; k < 10_000; k += 1) refit(made.responses[k % made.responses.length]);
  });
  const afreshMs = await medianMs(3, () => {
    const design = made.design.map((high) => ({ high }));
    for (let k = 0; k < 10_000; k += 1) leastSquares(design, made.responses[k % made.responses.length]);
  });
  const reference = referenceSeconds(made);
  const line = (what: string, ms: number, task: string, share: number): Measured => {
    const seconds = typeof reference === "string" ? undefined : reference.get(task);
    return {
      what,
      figure: `${ms.toFixed(2)} ms`,
      beside:
        seconds === undefined
          ? typeof reference === "string"
            ? reference
            : "R gave no figure"
          : `R ${(seconds * 1000).toFixed(2)} ms (${(ms / 1000 / seconds).toFixed(2)} of it)`,
      aim: `≤ ${share} of R`,
      met: seconds === undefined ? null : ms / 1000 <= share * seconds,
    };
  };
  return [
    line("full analysis of 480 × 16", analysisMs, "analysis", 0.5),
    line("10,000 refits of 32 × 11, factored once", refitsMs, "refits", 0.3),
    {
      ...line("10,000 fits of 32 × 11 from nothing, refined", afreshMs, "refits", 1),
      aim: "none",
      met: null,
    },
  ];
}
