import { readFileSync } from "node:fs";
import { relative, sep } from "node:path";
import { pathOf } from "./caller-file.ts";
import type { Entry } from "./entry.ts";

export type ErrorEntry = Extract<Entry, { kind: "error" }>;

/** A place in a source file; the line counts from 1. */
interface Place {
  readonly file: string;
  readonly line: number | null;
}

/**
 * What a thrown thing looks like on the page: its message, and the notebook's own file and line, also where the fault was thrown
 * deeper down (then the message says where). `lastCall` stands in where the stack does not pass through the notebook.
 */
export function errorEntry(
  thrown: unknown,
  {
    file,
    root,
    lastCall = null,
  }: { readonly file: string; readonly root: string; readonly lastCall?: Error | null },
): ErrorEntry {
  const fromCompiler = compilerFault(thrown);
  if (fromCompiler !== null) return entry(fromCompiler.message, fromCompiler, root);
  const stack = thrown instanceof Error ? placesIn(thrown) : [];
  const missing = missingImport(thrown, file);
  const own =
    missing ??
    stack.find((place) => place.file === file) ??
    (lastCall === null ? [] : placesIn(lastCall)).find((place) => place.file === file);
  const deepest = stack.find((place) => isOwnSource(place.file, root));
  const message = messageOf(thrown);
  const elsewhere =
    deepest !== undefined && deepest.file !== file
      ? ` (thrown in ${shown(deepest.file, root)} line ${deepest.line})`
      : "";
  return entry(message + elsewhere, own ?? { file, line: null }, root);
}

/** Path relative to the project, with forward slashes on every system; whole where it lies outside. */
export function shown(file: string, root: string): string {
  const inside = relative(root, file);
  return (inside.startsWith("..") ? file : inside).split(sep).join("/");
}

function entry(message: string, { file, line }: Place, root: string): ErrorEntry {
  return { kind: "error", message, file: shown(file, root), line };
}

/** The message, and those of its causes where they add something. */
function messageOf(thrown: unknown): string {
  if (!(thrown instanceof Error))
    return `Thrown: ${typeof thrown === "string" ? thrown : (JSON.stringify(thrown) ?? String(thrown))}`;
  const own = thrown.message === "" ? thrown.name : thrown.message;
  const plain = thrown.name === "Error" || (thrown.name.endsWith("Error") && !engineNames.has(thrown.name));
  const head = plain ? own : `${thrown.name}: ${own}`;
  if (!(thrown.cause instanceof Error) || own.includes(thrown.cause.message)) return head;
  return `${head}\nBecause: ${thrown.cause.message}`;
}

/** Names that say something of their own: a fault of the program, not a refusal of the library. */
const engineNames = new Set(["TypeError", "RangeError", "ReferenceError", "SyntaxError", "AggregateError"]);

/** The calls of a stack, the innermost first, with source maps applied (the engine has done so already). */
function placesIn(error: Error): readonly Place[] {
  const lines = (error.stack ?? "").split("\n");
  const calls = lines.flatMap((line) => {
    // The place is the first absolute path or address; folders may have spaces and brackets in their names.
    const match = /^\s+at (?:.*?[( ])??((?:file:\/\/|\/|[A-Za-z]:[\\/]).+?):(\d+):\d+\)?$/.exec(line);
    return match?.[1] === undefined ? [] : [{ file: pathOf(match[1]), line: Number(match[2]) }];
  });
  // An export that is missing is reported above the message, by file and line alone.
  const linked = /^(.+?):(\d+)$/.exec(lines[0] ?? "");
  return linked?.[1] === undefined ? calls : [{ file: pathOf(linked[1]), line: Number(linked[2]) }, ...calls];
}

function isOwnSource(file: string, root: string): boolean {
  return (
    file.startsWith(root + sep) &&
    !file.includes(`${sep}node_modules${sep}`) &&
    !file.startsWith(librarySource)
  );
}

/** The library's own folder: a fault in there is told at the notebook's line, not at the library's. */
export const librarySource = pathOf(new URL("..", import.meta.url).href);

/** A fault of syntax: the compiler writes "file:line:column: ERROR: what" under its first line. */
function compilerFault(thrown: unknown): (Place & { readonly message: string }) | null {
  if (!(thrown instanceof Error) || !thrown.message.startsWith("Transform failed")) return null;
  const match = /^(.+?):(\d+):(\d+): ERROR: (.+)$/m.exec(thrown.message);
  if (match?.[1] === undefined || match[4] === undefined) return null;
  return {
    message: `The TypeScript can't be read: ${match[4]} (column ${Number(match[3]) + 1})`,
    file: match[1],
    line: Number(match[2]),
  };
}

/** The line on which the notebook imports what isn't there; the engine names the two files only. */
function missingImport(thrown: unknown, file: string): Place | null {
  if (!(thrown instanceof Error && "code" in thrown && thrown.code === "ERR_MODULE_NOT_FOUND")) return null;
  const match = /^Cannot find (?:module|package) '([^']+)' imported from (.+)$/.exec(
    thrown.message.split("\n")[0] ?? "",
  );
  const importer = match?.[2] === undefined ? file : pathOf(match[2]);
  const wanted = (match?.[1] ?? "").replaceAll("\\", "/").split("/").at(-1) ?? "";
  return { file: importer, line: wanted === "" ? null : lineNaming(importer, wanted) };
}

function lineNaming(file: string, wanted: string): number | null {
  try {
    const lines = readFileSync(file, "utf8").split(/\r?\n/);
    const stem = wanted.replace(/\.[cm]?[jt]sx?$/, "");
    const at = lines.findIndex((line) => /\b(?:import|from|require)\b/.test(line) && line.includes(stem));
    return at < 0 ? null : at + 1;
  } catch {
    return null;
  }
}
