import { spawn } from "node:child_process";
import { mkdir, readFile, realpath, rm, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, expect, test } from "vitest";
import { answersIn, projectOf } from "../../src/notebook/run-as-program.ts";
import { project } from "./project.ts";

// The project as an installed copy sees it: "trycut" is found among the packages.
const home = fileURLToPath(new URL("../..", import.meta.url));
const tsx = join(home, "node_modules/tsx/dist/cli.mjs");
const name = "as-program";

let root: string;
let remove: () => Promise<void>;
let file: string;
let page: string;

const source = (end = ""): string => `import { notebook } from "trycut";
export default notebook({ title: "By itself" }, async (page) => {
  const limit = page.ask.quantity("Limit on Ra", { default: "0.8 µm" });
  page.prose("limit " + limit.text + after);
  ${end}
});
const after = ", defined after";
`;

beforeAll(async () => {
  const made = await project({
    "package.json": `{ "type": "module" }`,
    "experiments/empty": "",
    [`notebooks/${name}.ts`]: source(),
  });
  // The system's own name for the folder, as the program will print it.
  root = await realpath(made.root);
  remove = made.remove;
  file = join(root, "notebooks", `${name}.ts`);
  page = join(root, "notebooks", `${name}.html`);
  await mkdir(join(root, "node_modules"));
  await symlink(home, join(root, "node_modules", "trycut"), "junction");
});
afterAll(() => remove());

function run(...words: string[]): Promise<{ out: string; err: string; code: number | null }> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [tsx, ...words], { cwd: root });
    let out = "";
    let err = "";
    child.stdout.on("data", (chunk: Buffer) => (out += chunk.toString()));
    child.stderr.on("data", (chunk: Buffer) => (err += chunk.toString()));
    child.on("close", (code) => resolve({ out, err, code }));
  });
}

test("a notebook started by itself writes its page beside it, prints the path and nothing else", async () => {
  expect(await run(`notebooks/${name}.ts`)).toEqual({ out: `${page}\n`, err: "", code: 0 });
  expect(await readFile(page, "utf8")).toContain("limit 0.8 µm, defined after");
});

test("its questions can be answered on the command line, and its ending may be left off", async () => {
  expect((await run(`notebooks/${name}`, "--answer", "Limit on Ra=31 µin")).code).toBe(0);
  expect(await readFile(page, "utf8")).toContain("limit 31 µin");
});

test("an error is told with the line, the page is written with what came before, and the exit code is 1", async () => {
  await writeFile(file, source(`throw new Error("gone");`));
  expect(await run(`notebooks/${name}.ts`)).toEqual({
    out: `${page}\n`,
    err: `notebooks/${name}.ts line 5: gone\n`,
    code: 1,
  });
  expect(await readFile(page, "utf8")).toContain("limit 0.8 µm");
});

test("one that waits for what never comes says so, and does not look as if it had run", async () => {
  await writeFile(file, source("await new Promise(() => {});"));
  const { out, err, code } = await run(`notebooks/${name}.ts`);
  expect(out).toBe("");
  expect(err).toBe(
    `${file}: the notebook ended without finishing, and no page was written: it waits for something that never comes, or called process.exit.\n`,
  );
  expect(code).toBe(1);
});

test("imported by another module, it does not run", async () => {
  await writeFile(file, source());
  await rm(page, { force: true });
  const other = join(root, "notebooks", `${name}-other.ts`);
  await writeFile(other, `import definition from "./${name}.ts";\nprocess.stdout.write(definition.title);\n`);
  try {
    expect(await run(other)).toEqual({ out: "By itself", err: "", code: 0 });
    await expect(readFile(page)).rejects.toThrow("ENOENT");
  } finally {
    await rm(other);
  }
});

test("answers are label=text, the text may hold an equals sign; anything else is refused", () => {
  expect(answersIn(["--answer", "Limit=0.8 µm", "--answer", "Rule=a=b"])).toEqual({
    Limit: "0.8 µm",
    Rule: "a=b",
  });
  expect(() => answersIn(["--limit", "3"])).toThrow('"--limit 3" was not understood.');
  expect(() => answersIn(["--answer"])).toThrow("was not understood");
});

test("the project of a notebook is the nearest folder above it that holds experiments", () => {
  expect(projectOf(file)).toBe(root);
});
