import type { Remark } from "../review/index.ts";
import { escapeHtml } from "./escape.ts";
import { tableHtml } from "./table-html.ts";

/** What the data can't say or what looks wrong: each with its evidence, the smallest mend, and the runs that would mend it. */
export function renderRemarks(remarks: readonly Remark[]): string {
  if (remarks.length === 0) {
    return `<p class="entry remarks none">Nothing was noticed that this data can't tell apart, and nothing that looks wrong.</p>`;
  }
  return `<ul class="entry remarks">\n${remarks.map(renderRemark).join("\n")}\n</ul>`;
}

function renderRemark(remark: Remark): string {
  const runs = remark.runs.length === 0 ? "" : `<p class="runs">${runsText(remark.runs)}</p>`;
  const mend =
    remark.mend === ""
      ? ""
      : `<p class="mend"><span class="lead-in">Mend:</span> ${escapeHtml(remark.mend)}</p>`;
  return `<li class="${remark.weight === "caution" ? "remark caution" : "remark note"}">
<p class="tag">${remark.weight === "caution" ? "Caution" : "Note"}</p>
<div><p class="what">${escapeHtml(remark.title)}</p>
<p class="evidence">${escapeHtml(remark.evidence)}</p>
${mend}${runs}${addRuns(remark)}</div></li>`;
}

/** "Run 4", "Runs 4, 7 and 9"; a long list keeps its first dozen and the count. */
function runsText(runs: readonly number[]): string {
  const most = 12;
  if (runs.length === 1) return `Run ${runs[0]}`;
  if (runs.length > most) return `Runs ${runs.slice(0, most).join(", ")} and ${runs.length - most} more`;
  return `Runs ${runs.slice(0, -1).join(", ")} and ${runs.at(-1)}`;
}

function addRuns({ addRuns: runs }: Remark): string {
  if (runs.length === 0) return "";
  const columns = [...new Set(runs.flatMap((settings) => Object.keys(settings)))];
  const rows = runs.map((settings) => columns.map((name) => settings[name] ?? null));
  return `<p class="runs">Runs to add:</p>${tableHtml({ columns, rows }, { label: "Runs to add" })}`;
}
