import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createRunner, type Entry, type Page, type Runner } from "../../src/notebook/index.ts";
import { project } from "./project.ts";

const files = {
  "notebooks/plain.ts": `import { notebook } from "trycut";
import { part } from "./part.ts";

export default notebook({ title: "Plain" }, async (page) => {
  page.prose(part);
  await Promise.resolve();
  const limit = page.ask.quantity("Limit on Ra", { default: "0.8 µm" });
  page.prose(\`\${limit.value} \${limit.unit}\`);
});
`,
  "notebooks/part.ts": `import { deeper } from "./deeper.ts";\nexport const part: string = deeper;\n`,
  "notebooks/deeper.ts": `export const deeper: string = "from a part of a part";\n`,
  "notebooks/throws.ts": `import { notebook } from "trycut";

interface Unused {
  readonly width: number;
}

export default notebook({ title: "Throws" }, async (page) => {
  page.heading("Before");
  await new Promise((resolve) => setTimeout(resolve, 1));
  const unused: Unused = { width: 1 };
  page.prose(String(unused.width));
  throw new Error("the seventh tooth is gone");
});
`,
  "notebooks/throws-in-part.ts": `import { notebook } from "trycut";
import { fail } from "./failing-part.ts";
export default notebook({ title: "Part" }, (page) => {
  page.prose("before");

  fail();
});
`,
  "notebooks/failing-part.ts": `export function fail(): never {\n  throw new Error("from the part");\n}\n`,
  "notebooks/throws-in-library.ts": `import { notebook, parseQuantity } from "trycut";
export default notebook({ title: "Library" }, () => {
  // A comment line.
  parseQuantity("31 furlongs");
});
`,
  "notebooks/no-stack.ts": `import { readFile } from "node:fs/promises";
import { notebook } from "trycut";
export default notebook({ title: "No stack" }, async (page) => {
  page.prose("before");
  await readFile("/nowhere/at/all");
});
`,
  "notebooks/timer.ts": `import { notebook } from "trycut";
export default notebook({ title: "Timer" }, async (page) => {
  page.prose("before");
  setTimeout(() => {
    throw new TypeError("in a timer");
  }, 1);
  await new Promise((resolve) => setTimeout(resolve, 5_000));
});
`,
  "notebooks/syntax.ts": `import { notebook } from "trycut";\n\nexport default notebook({ title: "Syntax" }, () => {\n  const a = ;\n});\n`,
  "notebooks/syntax-in-part.ts": `import "./broken-part.ts";\nimport { notebook } from "trycut";\nexport default notebook({ title: "Syntax" }, () => {});\n`,
  "notebooks/broken-part.ts": `export const a = 1;\nexport const b: = 2;\n`,
  "notebooks/missing.ts": `import { notebook } from "trycut";\nimport "./not-there.ts";\nexport default notebook({ title: "Missing" }, () => {});\n`,
  "notebooks/missing-name.ts": `import { notebook } from "trycut";\nimport { nothing } from "./part.ts";\nexport default notebook({ title: "Missing" }, () => console.log(nothing));\n`,
  "notebooks/none.ts": `export const a = 1;\n`,
  "notebooks/loop.ts": `import { notebook } from "trycut";

function spin(): void {
  let x = 0;
  for (;;) x = Math.sqrt(x + 1);
}

export default notebook({ title: "Loop" }, (page) => {
  page.prose("before the loop");
  spin();
});
`,
  "notebooks/waits.ts": `import { notebook } from "trycut";\nexport default notebook({ title: "Waits" }, async (page) => {\n  page.prose("before");\n  await new Promise(() => {});\n});\n`,
  "notebooks/eats.ts": `import { notebook } from "trycut";\nexport default notebook({ title: "Eats" }, (page) => {\n  page.prose("before");\n  const all: number[][] = [];\n  for (;;) all.push(new Array<number>(100_000).fill(Math.random()));\n});\n`,
  "notebooks/counts.ts": `import { notebook } from "trycut";
(globalThis as { count?: number }).count = ((globalThis as { count?: number }).count ?? 0) + 1;
export default notebook({ title: "Counts" }, (page) => page.prose(String((globalThis as { count?: number }).count)));
`,
  "notebooks/same-copy.ts": `import * as trycut from "trycut";
export default trycut.notebook({ title: "Copy" }, async (page) => {
  const ahead: unknown = await import(${JSON.stringify(new URL("../../src/index.ts", import.meta.url).href)});
  page.prose(String(ahead === trycut));
});
`,
  "notebooks/late.ts": `import { notebook } from "trycut";
export default notebook({ title: "Late" }, (page) => {
  page.prose("in time");
  queueMicrotask(() => {});
  void Promise.resolve().then(() => new Promise((resolve) => setTimeout(resolve, 0))).then(() => page.prose("late"));
});
`,
};

let root: string;
let remove: () => Promise<void>;
let runner: Runner;

beforeAll(async () => {
  ({ root, remove } = await project(files));
  runner = createRunner({ root });
});
afterAll(async () => {
  await runner.close();
  await remove();
});

const run = (name: string, options: Parameters<Runner["run"]>[1] = {}): Promise<Page> =>
  runner.run(`notebooks/${name}.ts`, options);
const last = (page: Page): Entry | undefined => page.entries.at(-1);

describe("a run", () => {
  test("tells each entry as it comes, and returns them all with the files they were made from", async () => {
    const told: [string, number][] = [];
    const page = await run("plain", {
      onEntry: (entry, index) => told.push([entry.kind, index]),
      date: "2026-11-25",
    });
    expect(told).toEqual([
      ["prose", 0],
      ["ask", 1],
      ["prose", 2],
    ]);
    expect(page.title).toBe("Plain");
    expect(page.titleBlock.date).toBe("2026-11-25");
    expect(page.entries[0]).toEqual({ kind: "prose", markdown: "from a part of a part" });
    expect([...page.dependencies].sort()).toEqual(
      ["deeper.ts", "part.ts", "plain.ts"].map((name) => join(root, "notebooks", name)),
    );
  });

  test("takes the answers by their labels", async () => {
    const page = await run("plain", { answers: { "Limit on Ra": "31 µin" } });
    expect(last(page)).toEqual({ kind: "prose", markdown: "31 µin" });
  });

  test("starts in a fresh worker, where nothing of the run before can have stayed", async () => {
    await run("counts");
    expect(last(await run("counts"))).toEqual({ kind: "prose", markdown: "1" });
  });

  test("gives the notebook the very copy of the library that was loaded ahead", async () => {
    expect(last(await run("same-copy"))).toEqual({ kind: "prose", markdown: "true" });
  });

  test("ends with its body: what a notebook started and did not wait for is not on the page", async () => {
    expect((await run("late")).entries).toEqual([{ kind: "prose", markdown: "in time" }]);
  });
});

describe("what goes wrong is an entry with the notebook's own line", () => {
  test.each([
    ["throws", 12, "the seventh tooth is gone", 2],
    ["throws-in-part", 6, "from the part (thrown in notebooks/failing-part.ts line 2)", 1],
    ["no-stack", 5, "ENOENT: no such file or directory, open '/nowhere/at/all'", 1],
    ["timer", 5, "TypeError: in a timer", 1],
    ["syntax", 4, 'The TypeScript can\'t be read: Unexpected ";" (column 13)', 0],
    [
      "none",
      null,
      'This file has no notebook. Expected: export default notebook({ title: "…" }, async (page) => { … });',
      0,
    ],
  ])("%s: line %s", async (name, line, message, before) => {
    const page = await run(name);
    expect(page.entries).toHaveLength(before + 1);
    expect(last(page)).toEqual({ kind: "error", file: `notebooks/${name}.ts`, line, message });
  });

  test("a refusal of the library is told at the line that called it, in the library's own words", async () => {
    const entry = last(await run("throws-in-library"));
    expect(entry).toMatchObject({ kind: "error", file: "notebooks/throws-in-library.ts", line: 4 });
    expect(entry?.kind === "error" && entry.message).toContain("furlongs");
  });

  test("a fault of syntax in an import is told at the import's own line", async () => {
    expect(last(await run("syntax-in-part"))).toMatchObject({ file: "notebooks/broken-part.ts", line: 2 });
  });

  test("an import that isn't there is told at the line that imports it, and is watched for", async () => {
    const page = await run("missing");
    expect(last(page)).toMatchObject({ kind: "error", file: "notebooks/missing.ts", line: 2 });
    expect(page.dependencies).toContain(join(root, "notebooks", "not-there.ts"));
  });

  test("a name that an import doesn't have is told with the name", async () => {
    const entry = last(await run("missing-name"));
    expect(entry).toMatchObject({ kind: "error", file: "notebooks/missing-name.ts", line: 2 });
    expect(entry?.kind === "error" && entry.message).toContain("nothing");
  });
});

describe("a run that does not end", () => {
  test("is stopped at its limit, with the line it was at; what came before stays", async () => {
    const page = await run("loop", { limitMs: 3000 });
    expect(page.entries).toEqual([
      { kind: "prose", markdown: "before the loop" },
      {
        kind: "error",
        file: "notebooks/loop.ts",
        line: 5,
        message:
          "Stopped after 3.0 s, the limit for one run. What it had written stays. Look for a loop that does not end.",
      },
    ]);
  });

  test("is stopped by its signal", async () => {
    const stop = new AbortController();
    const page = await run("loop", {
      signal: stop.signal,
      onEntry: () => setTimeout(() => stop.abort(), 100),
    });
    expect(page.entries).toHaveLength(2);
    expect(last(page)).toMatchObject({ kind: "error", line: 5 });
    expect(JSON.stringify(last(page))).toMatch(/Stopped by hand after \d+\.\d s, before it had ended/);
  });

  test("is not begun where the signal had come before", async () => {
    const page = await run("plain", { signal: AbortSignal.abort() });
    expect(page.entries).toHaveLength(1);
    expect(last(page)).toMatchObject({ message: "Stopped by hand before it began." });
  });

  test("is found out at once where it waits for what never comes", async () => {
    const page = await run("waits");
    expect(page.entries[0]).toEqual({ kind: "prose", markdown: "before" });
    expect(last(page)).toMatchObject({
      message:
        "The notebook ended without finishing: it waits for something that never comes, or called process.exit.",
    });
  });

  test("is ended where it eats memory, and the next run is not harmed", async () => {
    const small = createRunner({ root, memoryMb: 96 });
    try {
      const page = await small.run("notebooks/eats.ts");
      expect(page.entries[0]).toEqual({ kind: "prose", markdown: "before" });
      expect(last(page)).toMatchObject({
        message: "Stopped: the notebook used more than 96 MB of memory. What it had written stays.",
      });
      expect((await small.run("notebooks/counts.ts")).entries).toHaveLength(1);
    } finally {
      await small.close();
    }
  });
});

test("a closed runner says so", async () => {
  const closed = createRunner({ root });
  await closed.close();
  await expect(closed.run("notebooks/plain.ts")).rejects.toThrow(
    "This runner was closed; create another one to run notebooks.",
  );
});
