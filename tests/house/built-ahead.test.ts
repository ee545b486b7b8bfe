import { execFile } from "node:child_process";
import { mkdtemp, readdir, readFile, rm, utimes, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { promisify } from "node:util";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { build } from "vite";
import { builtAhead } from "../../src/built-ahead.mjs";
import * as library from "../../src/index.ts";

const project = fileURLToPath(new URL("../..", import.meta.url));
const run = promisify(execFile);

describe("a file built ahead", () => {
  let folder = "";
  const at = (file: string, seconds: number) => utimes(join(folder, file), seconds, seconds);
  const asked = () => builtAhead("library", pathToFileURL(`${folder}/`));
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "trycut built (ahead) "));
    for (const file of ["library.mjs", "one.ts", "other.ts"]) await writeFile(join(folder, file), "");
    await writeFile(join(folder, "library.sources.json"), '["one.ts", "./other.ts"]');
    for (const file of ["one.ts", "other.ts"]) await at(file, 1000);
    await at("library.mjs", 2000);
  });
  afterAll(() => rm(folder, { recursive: true }));

  test("is taken where none of its sources is newer, and only there", async () => {
    expect(await asked()).toBe(pathToFileURL(join(folder, "library.mjs")).href);
    await at("other.ts", 3000);
    expect(await asked()).toBeNull();
    await at("other.ts", 2000);
    expect(await asked()).not.toBeNull();
  });

  test("is not taken where a source, the list of them or the file itself is gone", async () => {
    for (const file of ["one.ts", "library.sources.json", "library.mjs"]) {
      expect(await asked(), file).not.toBeNull();
      const text = await readFile(join(folder, file), "utf8");
      await rm(join(folder, file));
      expect(await asked(), file).toBeNull();
      await writeFile(join(folder, file), text);
      if (file !== "library.sources.json") await at(file, 2000);
    }
  });
});

describe("what npm run build makes", () => {
  const address = async (name: "library" | "command" | "threads"): Promise<string> => {
    const found = await builtAhead(name);
    if (found !== null) return found;
    await build({ configFile: join(project, "vite.ahead.config.ts"), mode: name });
    const made = await builtAhead(name);
    if (made === null) throw new Error(`${name} was built and is older than its sources all the same`);
    return made;
  };

  /** Names that the module has, told by plain Node: the tests' own loader would read all of it first. */
  const told = async (module: string, names: string): Promise<string[]> => {
    const program = `import * as module from ${JSON.stringify(module)}; console.log(JSON.stringify(${names}));`;
    const { stdout } = await run(process.execPath, ["--input-type=module", "--eval", program]);
    return JSON.parse(stdout) as string[];
  };

  test("is a library with every name of the sources, and the part of a notebook's worker", async () => {
    const made = await told(await address("library"), "Object.keys(module)");
    expect(made.sort()).toEqual([...Object.keys(library), "startWorker"].sort());
  });

  test("is a command that answers as the sources do", async () => {
    await address("command");
    const answers = await Promise.all(
      [[join(project, "src/cli/trycut.mjs")], ["--import", "tsx", join(project, "src/cli/main.ts")]].map(
        (words) => run(process.execPath, [...words, "--help"], { cwd: project }),
      ),
    );
    expect(answers[0]?.stdout).toContain("lay-out");
    expect(answers[0]?.stdout).toBe(answers[1]?.stdout);
  });

  test("is the work of every module that a thread is started with", async () => {
    const works = await told(
      await address("threads"),
      "Object.keys(module.works).filter((work) => typeof module.works[work].startWorker === 'function')",
    );
    const files = await readdir(join(project, "src"), { recursive: true });
    const texts = await Promise.all(
      files
        .filter((file) => file.endsWith(".ts"))
        .map((file) => readFile(join(project, "src", file), "utf8")),
    );
    const started = texts.flatMap((text) =>
      [...text.matchAll(/new URL\("([^"]+-worker\.ts)", import\.meta\.url\)/g)].map(([, file]) =>
        basename(file ?? ""),
      ),
    );
    expect(works.sort()).toEqual([...new Set(started)].sort());
  });
});
