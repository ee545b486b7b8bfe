import { trialChecksum } from "../store/index.ts";
import { parseTrialSpec } from "../trial/index.ts";
import { findingError } from "./error.ts";
import type { FindingRecord } from "./finding-record.ts";
import { recordSchema, type ReceivedModel } from "./record-schema.ts";

/** The element of a published page that holds its data. */
export const recordElement = "trycut-finding";

const opening = `<script type="application/json" id="${recordElement}">`;
const closing = "</script>";

/** A page of this many characters was made by no trial that Trycut can hold. */
const longestPage = 200_000_000;

/**
 * The record as an element that a browser neither runs nor shows. `<`, `>` and `&` are written as JSON escapes, so that no text in the
 * data can end the element; what any JSON reader makes of it is the same.
 */
export function embedRecord(record: FindingRecord): string {
  const json = JSON.stringify(record).replace(
    /[<>&\u2028\u2029]/g,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
  return `${opening}${json}${closing}\n`;
}

/** What a published page holds, read back and checked. */
export interface ReceivedFinding extends Omit<FindingRecord, "models"> {
  readonly models: Readonly<Record<string, ReceivedModel>>;
}

/**
 * The data of a published page: the trial as it was, and the models. Use it on a page that came from another shop: what is in it
 * is checked as data and never run.
 *
 * Refused, with what is wrong and where: a page without the block of data, a block that is no JSON, a field that is missing or of the
 * wrong kind, a trial that isn't one, and data that don't give the checksum that stands beside them (they were changed after
 * publication).
 *
 * @example extractData(await readFile("finding/index.html", "utf8")).trial.readings.length // 120
 */
export function extractData(html: string): ReceivedFinding {
  if (html.length > longestPage) {
    throw findingError(
      `The page has ${html.length} characters; expected at most ${longestPage}. It is no page that Trycut published.`,
    );
  }
  const start = html.indexOf(opening);
  const end = start < 0 ? -1 : html.indexOf(closing, start);
  if (end < 0) {
    throw findingError(
      `The page has no block of data (${opening}…${closing}). Expected the index.html of a finding as it was published; a page saved anew by a browser may have lost it.`,
    );
  }
  const record = checked(parsed(html.slice(start + opening.length, end)));
  const found = trialChecksum(record.trial);
  if (found !== record.checksum) {
    throw findingError(
      `The data in the page give the checksum ${found.slice(0, 12)}…, the page states ${record.checksum.slice(0, 12)}…: they were changed after publication. Ask the publisher for the page again.`,
    );
  }
  return record;
}

function parsed(json: string): unknown {
  try {
    return JSON.parse(json) as unknown;
  } catch (cause) {
    throw findingError(
      "The block of data in the page is no JSON: it is damaged. Ask the publisher for the page again.",
      cause,
    );
  }
}

function checked(json: unknown): ReceivedFinding {
  const result = recordSchema.safeParse(json);
  if (!result.success) {
    const issue = result.error.issues[0];
    const path = issue?.path.join(".") ?? "";
    throw findingError(
      `The block of data in the page, ${path === "" ? "its outside" : path}: ${issue?.message ?? "not understood"}.`,
    );
  }
  const { trial } = result.data;
  // The spec has a schema of its own, with its own messages.
  return { ...result.data, trial: { ...trial, spec: parseTrialSpec(trial.spec, "the page's trial.json") } };
}
