import { parseArgs } from "node:util";
import { RefusedError, UsageError } from "./error.ts";
import type { Terminal, Verb } from "./verb.ts";

const commonOptions = {
  json: { type: "boolean" },
  help: { type: "boolean", short: "h" },
} as const;

/** Verbs and options that are planned and not here yet; they are refused by name rather than ignored. */
const laterVerbs = ["texture", "receive", "pool"];

/** A fault of the program, unlike a refusal, shows where it happened. */
function isFault(error: unknown): boolean {
  return (
    !(error instanceof Error) ||
    ["Error", "TypeError", "RangeError", "ReferenceError", "SyntaxError"].includes(error.name)
  );
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

function overview(verbs: readonly VerbEntry[]): string {
  const widest = Math.max(...verbs.map((verb) => verb.name.length));
  const lines = verbs.map((verb) => `  ${verb.name.padEnd(widest)}  ${verb.summary}`);
  return [
    "trycut VERB: plan cutting trials, record them, say what they show and how sure.",
    "",
    ...lines,
    "",
    "`trycut VERB --help` tells more. Every verb takes --json for machines.",
    "Exit code 0: done. 1: refused, the message says how to mend it. 2: the call's own words are wrong.",
  ].join("\n");
}

/** A verb that is loaded only when it is called, so that a short command starts fast. */
export interface VerbEntry {
  readonly name: string;
  readonly summary: string;
  readonly load: () => Promise<Verb>;
}

function parse(verb: Verb, words: readonly string[]) {
  try {
    return parseArgs({
      args: [...words],
      options: { ...verb.options, ...commonOptions },
      allowPositionals: true,
      strict: true,
    });
  } catch (error) {
    throw new UsageError(`${messageOf(error)}\nSee \`trycut ${verb.name} --help\`.`, { cause: error });
  }
}

async function dispatch(
  words: readonly string[],
  verbs: readonly VerbEntry[],
  terminal: Terminal,
): Promise<number> {
  const [name, ...rest] = words;
  if (name === undefined || name === "help" || name === "--help" || name === "-h") {
    terminal.out(overview(verbs));
    return name === undefined ? 2 : 0;
  }
  const entry = verbs.find((candidate) => candidate.name === name);
  if (!entry) {
    if (laterVerbs.includes(name)) throw new RefusedError(`"${name}" is not in this version of Trycut yet.`);
    throw new UsageError(`There is no verb "${name}". Known: ${verbs.map((verb) => verb.name).join(", ")}.`);
  }
  const verb = await entry.load();
  const parsed = parse(verb, rest);
  if (parsed.values["help"]) {
    terminal.out(verb.help);
    return 0;
  }
  const [fewest, most] = verb.words;
  if (parsed.positionals.length < fewest || parsed.positionals.length > most) {
    throw new UsageError(`${verb.help.split("\n")[0] ?? ""}\nSee \`trycut ${verb.name} --help\`.`);
  }
  return verb.run(
    { words: parsed.positionals, options: parsed.values, json: parsed.values["json"] === true },
    terminal,
  );
}

/**
 * Runs one command. Never throws: whatever goes wrong is said on the error stream.
 * @returns the exit code: 0 done, 1 refused, 2 wrong usage
 */
export async function runCommand(
  words: readonly string[],
  verbs: readonly VerbEntry[],
  terminal: Terminal,
): Promise<number> {
  try {
    return await dispatch(words, verbs, terminal);
  } catch (error) {
    if (words.includes("--json")) terminal.out(JSON.stringify({ error: messageOf(error) }));
    terminal.error(
      isFault(error) && error instanceof Error ? (error.stack ?? error.message) : messageOf(error),
    );
    return error instanceof UsageError ? 2 : 1;
  }
}
