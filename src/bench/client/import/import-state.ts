import { computed, signal } from "@preact/signals";
import type { ImportAnswer, QuestionAnswers } from "../../api.ts";
import { messageOf, tell } from "../ask.ts";

export type Source = { readonly text: string } | { readonly base64: string };

export interface Table {
  readonly source: Source;
  /** The name of the file; empty for a pasted table. */
  readonly file: string;
  readonly mapping: Readonly<Record<string, string>>;
  readonly answers: QuestionAnswers;
  readonly force: string;
}

export const noTable: Table = { source: { text: "" }, file: "", mapping: {}, answers: {}, force: "" };

export const table = signal<Table>(noTable);
export const preview = signal<ImportAnswer | null>(null);
export const failure = signal("");

export const hasTable = computed(() => {
  const { source } = table.value;
  return "text" in source ? source.text.trim() !== "" : source.base64 !== "";
});

/** Whether the table can be taken in as it stands. */
export const isReady = computed(() => {
  const now = preview.value;
  return now !== null && now.problems.length === 0 && now.questions.length === 0 && now.readings > 0;
});

export function changeTable(change: Partial<Table>): void {
  table.value = { ...table.value, ...change };
}

/** Another table: what was answered about the one before says nothing about it. */
export function setSource(source: Source, file: string): void {
  table.value = { ...noTable, source, file };
  preview.value = null;
}

let asking: AbortController | undefined;

/** Asks what taking the table in would do; an older answer that comes late is thrown away. */
export async function lookAt(address: string, body: object): Promise<void> {
  asking?.abort();
  const mine = new AbortController();
  asking = mine;
  try {
    preview.value = await tell<ImportAnswer>(address, body, { signal: mine.signal });
    failure.value = "";
  } catch (error) {
    if (!mine.signal.aborted) failure.value = messageOf(error);
  }
}

/** The bytes of a file as they are: which encoding they are in is found out where they are read. */
export async function base64Of(file: File): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const step = 0x8000;
  let text = "";
  for (let at = 0; at < bytes.length; at += step)
    text += String.fromCharCode(...bytes.subarray(at, at + step));
  return btoa(text);
}
