/**
 * A table in plain text: columns padded to their widest cell, numbers to the right, a rule under the headings.
 * @param headings one a column
 * @param rows cells as text, one array a row
 */
export function alignedTable(headings: readonly string[], rows: readonly (readonly string[])[]): string {
  const numeric = headings.map((_, column) => rows.every((row) => /^[-−+]?[\d. ]*$/.test(row[column] ?? "")));
  const widths = headings.map((heading, column) =>
    Math.max(heading.length, ...rows.map((row) => (row[column] ?? "").length)),
  );
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, column) => (numeric[column] ? cell.padStart(widths[column]) : cell.padEnd(widths[column])))
      .join("  ")
      .trimEnd();
  return [line(headings), widths.map((width) => "─".repeat(width)).join("  "), ...rows.map(line)].join("\n");
}

/** Breaks text into lines of at most `width` characters, at spaces but not before a % or after a ±; the first keeps its own indent, later ones have `indent`. */
export function wrapped(text: string, width: number, { indent = "" }: { indent?: string } = {}): string {
  const lines: string[] = [];
  const own = /^\s*/.exec(text)?.[0] ?? "";
  const [first = "", ...words] = text.trim().split(/(?<!±)\s+(?!%)/);
  let current = own + first;
  for (const word of words) {
    if (current.length + 1 + word.length > width) {
      lines.push(current);
      current = indent + word;
    } else current = `${current} ${word}`;
  }
  return [...lines, current].join("\n");
}
