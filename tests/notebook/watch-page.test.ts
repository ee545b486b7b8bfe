import { rename, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import {
  createRunner,
  watchPage,
  type Page,
  type Runner,
  type WatchedPage,
} from "../../src/notebook/index.ts";
import { project } from "./project.ts";

const notebookSource = (part: string): string => `import { notebook } from "trycut";
import { word } from "${part}";
export default notebook({ title: "Watched" }, (page) => {
  const answer = page.ask.choice("Edge", { choices: ["fresh", "used"] });
  page.prose(word + " " + answer);
});
`;

let root: string;
let remove: () => Promise<void>;
let runner: Runner;
let watched: WatchedPage | undefined;

beforeAll(async () => {
  ({ root, remove } = await project({
    "notebooks/watched.ts": notebookSource("./parts/word.ts"),
    "notebooks/parts/word.ts": `export const word = "one";\n`,
  }));
  runner = createRunner({ root });
});
afterEach(() => watched?.close());
afterAll(async () => {
  await runner.close();
  await remove();
});

/** Pages as they come, asked for one by one. */
function watching(file: string) {
  const pages: Page[] = [];
  const waiting: ((page: Page) => void)[] = [];
  watched = watchPage(runner, join(root, file), {
    onPage: (page) => {
      const next = waiting.shift();
      if (next === undefined) pages.push(page);
      else next(page);
    },
  });
  const next = (): Promise<Page> => {
    const page = pages.shift();
    return page === undefined ? new Promise((resolve) => waiting.push(resolve)) : Promise.resolve(page);
  };
  return { next, watched };
}

const shown = (page: Page): string => {
  const last = page.entries.at(-1);
  return last?.kind === "prose" ? last.markdown : JSON.stringify(last);
};

test("a page is run again when its file, an import or an answer changes, however the file is saved", async () => {
  const { next, watched: page } = watching("notebooks/watched.ts");
  expect(shown(await next())).toBe("one fresh");
  await writeFile(join(root, "notebooks/parts/word.ts"), `export const word = "two";\n`);
  expect(shown(await next())).toBe("two fresh");
  page.answer({ Edge: "used" });
  expect(shown(await next())).toBe("two used");
  // As editors save: another file takes the name.
  await writeFile(join(root, "notebooks/parts/draft.tmp"), `export const word = "three";\n`);
  await rename(join(root, "notebooks/parts/draft.tmp"), join(root, "notebooks/parts/word.ts"));
  expect(shown(await next())).toBe("three used");
});

test("an import that isn't there yet is waited for", async () => {
  await writeFile(join(root, "notebooks/later.ts"), notebookSource("./later-word.ts"));
  const { next } = watching("notebooks/later.ts");
  expect(shown(await next())).toContain("later-word.ts");
  await writeFile(join(root, "notebooks/later-word.ts"), `export const word = "come";\n`);
  expect(shown(await next())).toBe("come fresh");
});

test("a fault in an import leaves it watched, so that mending it is seen", async () => {
  await writeFile(join(root, "notebooks/parts/word.ts"), `export const word = "four";\n`);
  const { next } = watching("notebooks/watched.ts");
  expect(shown(await next())).toBe("four fresh");
  await writeFile(join(root, "notebooks/parts/word.ts"), `export const word = ;\n`);
  expect(shown(await next())).toContain("notebooks/parts/word.ts");
  await writeFile(join(root, "notebooks/parts/word.ts"), `export const word = "five";\n`);
  expect(shown(await next())).toBe("five fresh");
});

test("a change during a run breaks it off, and only the newer page is told", async () => {
  const slow = (word: string): string => `import { notebook } from "trycut";
export default notebook({ title: "Slow" }, async (page) => {
  page.prose("begun");
  ${word === "endless" ? "for (;;);" : ""}
  page.prose("${word}");
});
`;
  const file = join(root, "notebooks/slow.ts");
  await writeFile(file, slow("endless"));
  const started = new Promise<void>((resolve) => {
    watched = watchPage(runner, file, { onEntry: () => resolve(), onPage: (page) => told.push(page) });
  });
  const told: Page[] = [];
  await started;
  await writeFile(file, slow("quick"));
  while (told.length === 0) await new Promise((resolve) => setTimeout(resolve, 20));
  expect(told.map(shown)).toEqual(["quick"]);
  await rm(file);
});

test("a run that goes on can be stopped, and its page says so", async () => {
  const file = join(root, "notebooks/endless.ts");
  await writeFile(
    file,
    `import { notebook } from "trycut";\nexport default notebook({ title: "Endless" }, (page) => {\n  page.prose("begun");\n  for (;;);\n});\n`,
  );
  const page = await new Promise<Page>((resolve) => {
    const made = watchPage(runner, file, { onEntry: () => made.stop(), onPage: resolve });
    watched = made;
  });
  expect(page.entries[0]).toEqual({ kind: "prose", markdown: "begun" });
  expect(shown(page)).toContain("Stopped by hand");
});
