import { basename, resolve } from "node:path";
import { readFile } from "node:fs/promises";
import {
  commitImport,
  createTrialFromTable,
  openTrial,
  previewImport,
  trialFromTable,
  type ImportPreview,
  type TablePreview,
} from "../../store/index.ts";
import { alignedTable, wrapped } from "../aligned-table.ts";
import { answersTyped, askedError } from "../answers.ts";
import { RefusedError, UsageError } from "../error.ts";
import { experimentsRoot } from "../experiments-root.ts";
import { choiceOption, namesOption, textOption } from "../option-values.ts";
import type { Call, OptionValues, Terminal, Verb } from "../verb.ts";

export const importVerb: Verb = {
  name: "import",
  summary: "bring readings in from a table, or make a trial of it",
  help: [
    "trycut import FILE.csv --trial NAME [--preview] [--json]",
    "trycut import FILE.csv --new NAME [--surface run,diameter] [--title …] [--source …] [--kind published]",
    "",
    "The first adds readings to a trial; the second makes a new trial of a table that carries settings and readings. Commas,",
    "semicolons or tabs, decimal point or comma, units in brackets in the header. What can be read in two ways is asked about;",
    "nothing is written before all is answered.",
    "",
    "  --preview              show what would be taken in, and write nothing",
    '  --map "COLUMN=MEANING" what a column means: run, spot, repeat, note, "leave out", a factor or a response; several times',
    "  --surface a,b          with --new: the columns that together tell one surface from the next",
    "  --title, --question, --source, --kind   with --new: what trial.json says",
    '  --answer "ID=CHOICE: why"   answers a question; several times',
    '  --force "why"          keeps every doubtful reading, with this note',
  ].join("\n"),
  options: {
    trial: { type: "string" },
    new: { type: "string" },
    preview: { type: "boolean" },
    map: { type: "string", multiple: true },
    surface: { type: "string" },
    title: { type: "string" },
    question: { type: "string" },
    source: { type: "string" },
    kind: { type: "string" },
    answer: { type: "string", multiple: true },
    force: { type: "string" },
  },
  words: [1, 1],
  run: async (call, terminal) => {
    const { options, words } = call;
    const [into, made] = [textOption(options, "trial"), textOption(options, "new")];
    if ((into === undefined) === (made === undefined)) {
      throw new UsageError(
        "Say where to: --trial NAME for readings of a trial, or --new NAME for a trial of its own.",
      );
    }
    const source = await bytesOf(words[0], terminal);
    const settled = {
      file: basename(words[0]),
      mapping: mappingTyped(options["map"]),
      answers: answersTyped(options["answer"]),
      force: textOption(options, "force") ?? "",
    };
    return into === undefined
      ? newTrial(made ?? "", source, settled, call, terminal)
      : readingsOf(into, source, settled, call, terminal);
  },
};

interface Settled {
  readonly file: string;
  readonly mapping: Readonly<Record<string, string>>;
  readonly answers: ReturnType<typeof answersTyped>;
  readonly force: string;
}

async function readingsOf(
  name: string,
  source: Uint8Array,
  settled: Settled,
  { options, json }: Call,
  terminal: Terminal,
): Promise<number> {
  const trial = await openTrial(name, { root: experimentsRoot(terminal) });
  const preview = previewImport(source, trial, settled);
  if (options["preview"] === true) return shown(preview, preview.columns.map(columnRow), json, terminal);
  refuseProblems(preview, settled.file);
  const imported = await commitImport(preview, { now: terminal.now });
  if (imported.kind === "asked") throw askedError(imported.questions, terminal.width);
  if (json) terminal.out(JSON.stringify({ trial: name, readings: imported.readings, asCut: imported.asCut }));
  else
    terminal.out(
      `Saved: ${imported.readings} readings of ${name}${imported.asCut > 0 ? `, ${imported.asCut} settings as cut` : ""}.`,
    );
  return 0;
}

async function newTrial(
  name: string,
  source: Uint8Array,
  settled: Settled,
  { options, json }: Call,
  terminal: Terminal,
): Promise<number> {
  const preview = trialFromTable(source, {
    ...settled,
    surface: namesOption(options, "surface") ?? [],
    about: aboutTrial(options),
  });
  if (options["preview"] === true) return shown(preview, preview.columns.map(columnRow), json, terminal);
  refuseProblems(preview, settled.file);
  const created = await createTrialFromTable(experimentsRoot(terminal), name, preview, { now: terminal.now });
  if (created.kind === "asked") throw askedError(created.questions, terminal.width);
  const { runs, readings, folder } = created.trial;
  if (json)
    terminal.out(
      JSON.stringify({ trial: name, runs: runs.length, readings: readings.length, written: folder }),
    );
  else
    terminal.out(
      [preview.told, `Written: ${resolve(folder)}, ${runs.length} runs, ${readings.length} readings.`].join(
        "\n",
      ),
    );
  return 0;
}

async function bytesOf(path: string, { folder }: Terminal): Promise<Uint8Array> {
  try {
    return await readFile(resolve(folder, path));
  } catch (error) {
    throw new RefusedError(
      `${path}: can't be read (${String((error as NodeJS.ErrnoException).code)}). Expected the path of a CSV file, from ${folder}.`,
      {
        cause: error,
      },
    );
  }
}

function mappingTyped(typed: OptionValues[string]): Readonly<Record<string, string>> {
  const list = Array.isArray(typed) ? typed.map(String) : [];
  return Object.fromEntries(
    list.map((text) => {
      const at = text.indexOf("=");
      if (at < 1) throw new UsageError(`--map ${text}: expected COLUMN=MEANING, such as "Trace=repeat".`);
      return [text.slice(0, at).trim(), text.slice(at + 1).trim()];
    }),
  );
}

function aboutTrial(options: OptionValues) {
  const kind = choiceOption(options, "kind", ["measured", "published", "invented"] as const);
  const texts = (["title", "question", "source"] as const).flatMap((name) => {
    const text = textOption(options, name);
    return text === undefined ? [] : [[name, text] as const];
  });
  return { ...Object.fromEntries(texts), ...(kind === undefined ? {} : { dataKind: kind }) };
}

type AnyColumn = ImportPreview["columns"][number] | TablePreview["columns"][number];

function columnRow(seen: AnyColumn): readonly string[] {
  const meaning = "role" in seen ? seen.role : seen.meaning;
  return [seen.column.header, meaning ?? "asked", seen.why, seen.column.texts.slice(0, 3).join("; ")];
}

function shown(
  preview: ImportPreview | TablePreview,
  columns: readonly (readonly string[])[],
  json: boolean,
  { out, width }: Terminal,
): number {
  const { rows, readings, problems, questions } = preview;
  if (json) {
    out(
      JSON.stringify({
        columns: columns.map(([header, meaning, why]) => ({ header, meaning, why })),
        rows,
        readings: readings.length,
        problems,
        questions,
      }),
    );
    return problems.length > 0 ? 1 : 0;
  }
  out(
    [
      `${rows} rows, ${readings.length} readings would be taken in. Nothing is written.`,
      "",
      alignedTable(["column", "taken as", "because", "first cells"], columns),
      ...problems.map(({ text }) => wrapped(`! ${text}`, width, { indent: "  " })),
      ...questions.map(({ text }) => wrapped(`? ${text}`, width, { indent: "  " })),
    ].join("\n"),
  );
  return problems.length > 0 ? 1 : 0;
}

function refuseProblems({ problems }: ImportPreview | TablePreview, file: string): void {
  if (problems.length === 0) return;
  throw new RefusedError(
    [`${file} can't be taken in:`, ...problems.map(({ text }) => `- ${text}`), "Nothing was written."].join(
      "\n",
    ),
  );
}
