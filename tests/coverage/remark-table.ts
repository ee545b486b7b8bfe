import type { CoverageLine } from "./coverage-table.ts";

/** Remarks that state a fact of the plan or of what was recorded, which chance can't make. */
export const facts: Readonly<Record<string, string>> = {
  "added-after-looking": "a fact of how the runs came about",
  "cutoff-too-short": "a fact of the cut-off and the feeds",
  "moved-together": "a fact of the plan",
  "nearly-together": "a fact of the plan",
  "no-replicates": "a fact of the plan",
  "one-reading-a-run": "a fact of the readings taken",
  "prediction-outside": "a fact of the settings asked for",
  "proof-passed, -failed, -open": "by the rule, which states both chances of being wrong",
  "runs-not-read": "a fact of the readings taken",
  "trace-along-lay": "a fact of how the trace was taken",
  "whole-plots-as-runs": "a fact of the plan and the fit",
};

const clean = /^remark on (?:a clean trial|clean runs): ([^,]+), (.*)$/;
const disturbed = /^power of a remark: ([^,]+), (.*)$/;

/** The table of DEVELOPERS.md: how often each remark is raised on clean trials, and where a stated disturbance is in them. From the committed lines. */
export function remarkTable(lines: readonly CoverageLine[]): string {
  const told = (pattern: RegExp, words: string): readonly (readonly string[])[] =>
    lines.flatMap(({ name, share }) => {
      const [, kind, of] = pattern.exec(name) ?? [];
      return kind === undefined || of === undefined
        ? []
        : [[kind, words + of, `${(100 * share).toFixed(1)} %`]];
    });
  const rows = [
    ...told(clean, "clean: "),
    ...told(disturbed, ""),
    ...Object.entries(facts).map(([kind, why]) => [kind, why, ""]),
  ];
  const kinds = [...new Set(rows.map(([kind]) => kind))].sort();
  return aligned([
    ["remark", "trial", "raised in"],
    ...kinds.flatMap((kind) => rows.filter(([own]) => own === kind)),
  ]);
}

/** As the formatter lays a table out. */
function aligned(rows: readonly (readonly string[])[]): string {
  const widths = rows[0].map((_, column) => Math.max(...rows.map((row) => [...row[column]].length)));
  const line = (row: readonly string[]): string =>
    `| ${row.map((cell, column) => cell + " ".repeat(widths[column] - [...cell].length)).join(" | ")} |`;
  return [line(rows[0]), line(widths.map((width) => "-".repeat(width))), ...rows.slice(1).map(line)].join(
    "\n",
  );
}
