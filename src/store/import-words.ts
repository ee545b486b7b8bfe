/** What a column of a file to be imported means, apart from factors and responses, which go by their names. */
export const columnWords = [
  "run",
  "spot",
  "repeat",
  "block",
  "taken",
  "note",
  "void",
  "response",
  "value",
  "unit",
  "leave out",
] as const;

export type ColumnWord = (typeof columnWords)[number];

const usual: Readonly<Record<Exclude<ColumnWord, "leave out">, readonly string[]>> = {
  run: ["run", "run no", "run no.", "run number", "run nr", "pass", "pass no", "pass number"],
  spot: ["spot", "position", "place", "location", "trace place"],
  repeat: ["repeat", "reading", "reading no", "trace", "trace no", "measurement"],
  block: ["block", "day", "shift"],
  taken: ["taken", "time", "date", "measured at", "timestamp"],
  note: ["note", "notes", "comment", "comments", "remark", "remarks"],
  void: ["void"],
  response: ["response", "parameter", "quantity"],
  value: ["value", "result"],
  unit: ["unit", "units"],
};

/** The word that a header stands for in most shops; null where none is usual. */
export function usualWord(name: string): ColumnWord | null {
  const plain = name
    .trim()
    .toLowerCase()
    .replace(/[_\s]+/g, " ");
  const found = Object.entries(usual).find(([, names]) => names.includes(plain));
  return found === undefined ? null : (found[0] as ColumnWord);
}

/** Headers that mean a fresh run to one shop and another reading of the same surface to the next. */
export function isReplicate(name: string): boolean {
  return /^(?:rep|reps|replicate|replicates|replication|replica)(?:[ _]?(?:no|nr|number))?\.?$/i.test(
    name.trim(),
  );
}
