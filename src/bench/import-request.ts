import { z } from "zod";

const name = z.string().max(500);
const text = z.string().max(2_000);

/** A table as it was pasted, or the bytes of a file, whose encoding the store finds out. */
const source = z.union([z.strictObject({ text: z.string() }), z.strictObject({ base64: z.base64() })]);

const common = {
  source,
  file: text,
  mapping: z.record(name, name),
  answers: z.record(name, z.strictObject({ choice: name, note: text })),
  /** Keeps every doubtful reading that is asked about, with this note. */
  force: text,
};

export const importRequest = z.strictObject(common);

export const tableRequest = z.strictObject({
  ...common,
  /** The name of the folder of the new trial; not needed for a preview. */
  name: text,
  surface: z.array(name).max(50),
  about: z.strictObject({
    title: text,
    question: text,
    dataKind: z.enum(["measured", "published", "invented"]),
    source: text,
    display: z.enum(["metric", "inch"]),
  }),
});

export type ImportRequest = z.output<typeof importRequest>;
export type TableRequest = z.output<typeof tableRequest>;
