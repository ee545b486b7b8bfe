import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { NotebookError, notebookError } from "./error.ts";
import type { Notebook } from "./definition.ts";
import { renderPage } from "./render-page.ts";
import { runDefinition } from "./run-definition.ts";
import { isoDate } from "./title-block.ts";
import { writeWhole } from "./write-whole.ts";

/** Runs a notebook that was started by itself: writes its page beside it and prints the path. Exit code 1 where it stopped at an error. */
export async function runAsProgram(definition: Notebook, words: readonly string[]): Promise<void> {
  const { file } = definition;
  let ended = false;
  // Node ends quietly when nothing is left to wait for; a notebook that waits for nothing must not look as if it had run.
  process.once("exit", () => {
    if (ended) return;
    process.stderr.write(
      `${file}: the notebook ended without finishing, and no page was written: it waits for something that never comes, or called process.exit.\n`,
    );
    process.exitCode ||= 1;
  });
  try {
    const answers = answersIn(words);
    const page = await runDefinition(definition, {
      file,
      root: projectOf(file),
      answers,
      date: isoDate(new Date()),
      onEntry: () => {},
    });
    const target = file.replace(/\.[cm]?[jt]s$/, "") + ".html";
    await writeWhole(target, renderPage(page));
    process.stdout.write(`${target}\n`);
    for (const entry of page.entries) {
      if (entry.kind !== "error") continue;
      process.stderr.write(
        `${entry.file}${entry.line === null ? "" : ` line ${entry.line}`}: ${entry.message}\n`,
      );
      process.exitCode = 1;
    }
  } catch (error) {
    process.stderr.write(
      `${error instanceof NotebookError ? error.message : error instanceof Error ? error.stack : String(error)}\n`,
    );
    process.exitCode = 1;
  } finally {
    ended = true;
  }
}

/** `--answer "label=text"`, as often as there are questions. */
export function answersIn(words: readonly string[]): Readonly<Record<string, string>> {
  const answers: Record<string, string> = {};
  for (let at = 0; at < words.length; at += 2) {
    const pair = words[at + 1] ?? "";
    const equals = pair.indexOf("=");
    if (words[at] !== "--answer" || equals < 1) {
      throw notebookError(
        `"${words.slice(at).join(" ")}" was not understood. A notebook takes --answer "question=answer", and nothing else.`,
      );
    }
    answers[pair.slice(0, equals)] = pair.slice(equals + 1);
  }
  return answers;
}

/** The nearest folder above a notebook that holds `experiments/`; else the one with a package.json, else the working folder. */
export function projectOf(file: string): string {
  for (const mark of ["experiments", "package.json"]) {
    let folder = dirname(file);
    for (;;) {
      if (existsSync(join(folder, mark))) return folder;
      const above = dirname(folder);
      if (above === folder) break;
      folder = above;
    }
  }
  return process.cwd();
}
