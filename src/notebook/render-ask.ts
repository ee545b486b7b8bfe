import type { AskEntry } from "./entry.ts";
import { escapeHtml } from "./escape.ts";

/**
 * A question and the answer that was used. As a form, its control bears `name` = the question's label; whoever shows the form listens
 * for `change` and runs the notebook again with the new answer.
 */
export function renderAsk(
  entry: AskEntry,
  { asks, place }: { readonly asks: "text" | "form"; readonly place: string },
): string {
  const label = escapeHtml(entry.label);
  const refusal =
    entry.refusal === "" ? "" : `<p class="refusal" id="${place}-refusal">${escapeHtml(entry.refusal)}</p>`;
  if (asks === "text") {
    return `<div class="entry ask"><p><span class="question">${label}</span> <span class="answer">${escapeHtml(entry.answer)}</span></p>${refusal}</div>`;
  }
  const id = `${place}-answer`;
  const described = entry.refusal === "" ? "" : ` aria-invalid="true" aria-describedby="${place}-refusal"`;
  return `<form class="entry ask" data-ask="${entry.ask}"><label for="${id}">${label}</label>${control(entry, `id="${id}" name="${label}"${described}`)}${refusal}</form>`;
}

function control(entry: AskEntry, attributes: string): string {
  if (entry.ask === "choice") return select(entry.choices, entry.answer, attributes);
  if (entry.ask === "yes-no") return select(["yes", "no"], entry.answer, attributes);
  const keyboard = entry.ask === "number" ? ' inputmode="decimal"' : "";
  return `<input type="text"${keyboard} autocomplete="off" spellcheck="false" value="${escapeHtml(entry.answer)}" ${attributes}>`;
}

function select(choices: readonly string[], chosen: string, attributes: string): string {
  const options = choices
    .map((choice) => `<option${choice === chosen ? " selected" : ""}>${escapeHtml(choice)}</option>`)
    .join("");
  return `<select ${attributes}>${options}</select>`;
}
