import type { CoverageResult } from "./coverage-case.ts";

/** A line of the committed table. */
export interface CoverageLine extends CoverageResult {
  /** Share of the trials with an interval in which the promise held. */
  readonly share: number;
  /** Of the share, by chance of the draws. */
  readonly standardError: number;
  /** The day it was drawn, as 2026-11-25. */
  readonly date: string;
}

const heading = "case,promise,nominal,share,standard error,held,trials,without interval,seed,date";

/** The table with these results in place of their older lines; sorted by name, so that a change shows as one line. */
export function mergeCoverage(table: string, results: readonly CoverageResult[], date: Date): string {
  const kept = readCoverage(table).filter(({ name }) => !results.some((result) => result.name === name));
  const lines = [...kept, ...results.map((result) => lineOf(result, date))];
  lines.sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
  return [heading, ...lines.map(lineText), ""].join("\n");
}

/** Reads the committed table. */
export function readCoverage(table: string): readonly CoverageLine[] {
  return table
    .split("\n")
    .slice(1)
    .filter((line) => line !== "")
    .map((line) => {
      const quoted = /^"((?:[^"]|"")*)",(.*)$/.exec(line);
      if (!quoted) throw new Error(`coverage.csv: the name of the case is not in quotes: ${line}`);
      const name = (quoted[1] ?? "").replaceAll('""', '"');
      const [promise, nominal, share, standardError, held, trials, without, seed, date] = (
        quoted[2] ?? ""
      ).split(",");
      return {
        name,
        promise: promise as CoverageLine["promise"], // written by lineText
        nominal: Number(nominal),
        share: Number(share),
        standardError: Number(standardError),
        held: Number(held),
        trials: Number(trials),
        without: Number(without),
        seed: Number(seed),
        date: date ?? "",
      };
    });
}

function lineOf(result: CoverageResult, date: Date): CoverageLine {
  const told = result.trials - result.without;
  const share = result.held / told;
  return {
    ...result,
    share,
    standardError: Math.sqrt((share * (1 - share)) / told),
    date: date.toISOString().slice(0, 10),
  };
}

function lineText(line: CoverageLine): string {
  return [
    `"${line.name.replaceAll('"', '""')}"`,
    line.promise,
    line.nominal,
    line.share.toFixed(4),
    line.standardError.toFixed(4),
    line.held,
    line.trials,
    line.without,
    line.seed,
    line.date,
  ].join(",");
}
