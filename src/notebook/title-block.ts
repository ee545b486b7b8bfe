import type { TitleBlock } from "./entry.ts";
import type { OpenedTrial } from "./page-context.ts";
import { softwareVersion } from "./version.ts";

/** The title block of a page that was made from these trials; with several, each cell lists what they have. */
export function titleBlockOf(title: string, opened: readonly OpenedTrial[], date: string): TitleBlock {
  const trials = [...new Map(opened.map((trial) => [trial.name, trial])).values()];
  const listed = (pick: (trial: OpenedTrial) => string, between: string): string =>
    [...new Set(trials.map(pick).filter((text) => text !== ""))].join(between);
  return {
    title,
    trial: listed((trial) => trial.name, ", "),
    question: listed((trial) => trial.question, " "),
    units: listed((trial) => trial.display, " and "),
    date,
    checksum: listed((trial) => trial.checksum, ", "),
    dataKind: listed((trial) => trial.dataKind, " and "),
    source: listed((trial) => trial.source, "; "),
    softwareVersion,
  };
}

/** A day in the reader's own place, as ISO 8601 writes it. */
export function isoDate(moment: Date): string {
  const two = (part: number): string => part.toString().padStart(2, "0");
  return `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`;
}
