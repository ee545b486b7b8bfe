import { fileURLToPath } from "node:url";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { createRunner, renderPage, type Runner } from "../../src/notebook/index.ts";
import { createTrial, record } from "../../src/store/index.ts";
import { layOut } from "../../src/layout/index.ts";
import { parseTrialSpec } from "../../src/trial/index.ts";
import { project } from "./project.ts";

const source = (open: string): string => `import { notebook, openTrial } from "trycut";
${open.startsWith("top") ? 'const trial = await openTrial("face");' : ""}
export default notebook({ title: "Opens" }, async (page) => {
  ${open.startsWith("top") ? "" : 'const trial = await openTrial("face");'}
  page.prose(String(trial.readings.length));
  page.table(trial.table());
});
`;

let root: string;
let remove: () => Promise<void>;
let runner: Runner;

beforeAll(async () => {
  ({ root, remove } = await project({
    "experiments/none": "",
    "notebooks/opens.ts": source("inside"),
    "notebooks/opens-at-top.ts": source("top"),
    "notebooks/lacks.ts": `import { notebook, openTrial } from "trycut";\nexport default notebook({ title: "Lacks" }, async (page) => {\n  page.prose("before");\n  await openTrial("nothing-here");\n});\n`,
  }));
  const spec = parseTrialSpec({
    title: "Face",
    question: "How fast?",
    dataKind: "invented",
    factors: [{ name: "feed", kind: "quantity", unit: "mm/rev", low: 0.1, high: 0.2 }],
    responses: [{ name: "Ra", unit: "µm" }],
    layout: { kind: "factorial", seed: 1 },
  });
  const trial = await createTrial(join(root, "experiments"), "face", spec, layOut(spec).runs);
  await record(trial.folder, [{ run: 1, response: "Ra", value: 0.8 }]);
  runner = createRunner({ root });
});
afterAll(async () => {
  await runner.close();
  await remove();
});

test.each(["opens", "opens-at-top"])(
  "a trial that a notebook opens (%s) fills the title block, and its files are watched",
  async (name) => {
    const page = await runner.run(`notebooks/${name}.ts`, { date: "2026-11-25" });
    expect(page.entries[0]).toEqual({ kind: "prose", markdown: "1" });
    expect(page.titleBlock).toMatchObject({
      title: "Opens",
      trial: "face",
      question: "How fast?",
      units: "metric",
      date: "2026-11-25",
      dataKind: "invented",
      checksum: expect.stringMatching(/^[0-9a-f]{64}$/) as string,
    });
    for (const file of ["trial.json", "plan.csv", "as-cut.csv", "readings.csv"]) {
      expect(page.dependencies).toContain(join(root, "experiments", "face", file));
    }
    expect(renderPage(page)).toContain("Invented data.");
  },
);

test("a trial that isn't there is an entry at the line that opens it", async () => {
  const page = await runner.run("notebooks/lacks.ts");
  expect(page.entries).toHaveLength(2);
  expect(page.entries[1]).toMatchObject({ kind: "error", file: "notebooks/lacks.ts", line: 4 });
  expect(page.entries[1]?.kind === "error" && page.entries[1].message).toContain("nothing-here");
});

test("nothing of the library lies among the files that are watched", async () => {
  const { dependencies } = await runner.run("notebooks/opens.ts");
  const home = fileURLToPath(new URL("../../src", import.meta.url));
  expect(dependencies.filter((file) => file.startsWith(home) || file.includes("node_modules"))).toEqual([]);
});
