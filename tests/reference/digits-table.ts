/** One reference set with the digits that each kind of figure agrees to. */
export interface DigitsRow {
  readonly name: string;
  readonly digits: Readonly<Record<string, number>>;
}

/** Prints the digits of every set, and below them the sets that can't reach the rest with the reason. 17 means that nothing differs. */
export function printDigits(title: string, rows: readonly DigitsRow[], notes: readonly string[] = []): void {
  const kinds = [...new Set(rows.flatMap(({ digits }) => Object.keys(digits)))];
  const widths = kinds.map((kind) => Math.max(kind.length, 5));
  const line = (name: string, cells: readonly string[]) =>
    [name.padEnd(12), ...cells.map((cell, k) => cell.padStart(widths[k]))].join("  ");
  process.stdout.write(
    [
      "",
      title,
      line("", kinds),
      ...rows.map(({ name, digits }) =>
        line(
          name,
          kinds.map((kind) => (kind in digits ? digits[kind].toFixed(1) : "")),
        ),
      ),
      ...notes,
      "",
    ].join("\n"),
  );
}
