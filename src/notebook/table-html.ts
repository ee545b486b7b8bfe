import type { FigureTable } from "../figure/index.ts";
import { columnText } from "./column-text.ts";
import { escapeHtml } from "./escape.ts";

/** A cell of more characters than this may be broken into lines. */
const longCell = 40;
/** More rows than this are left out of the page (never of the data), and the page says so: a sheet is read, not scrolled for ever. */
const defaultRowsShown = 200;

/**
 * A table as HTML: heads that repeat in print, numbers aligned on the decimal point, a box that scrolls sideways on a narrow screen and
 * can be reached by keyboard. `label` names it for a screen reader. Shows `rowsShown` rows (default 200), and says how many more there are.
 */
export function tableHtml(
  table: FigureTable,
  { label, rowsShown = defaultRowsShown }: { label: string; rowsShown?: number },
): string {
  const shown = table.rows.slice(0, rowsShown);
  const columns = table.columns.map((_, column) => columnText(shown.map((row) => row[column] ?? null)));
  const numeric = columns.map((_, column) => isNumeric(shown.map((row) => row[column] ?? null)));
  const kind = (column: number): string => (numeric[column] ? ' class="number"' : "");
  const cellKind = (column: number, text: string): string =>
    text.length > longCell ? ' class="long"' : kind(column);
  const head = table.columns
    .map((name, column) => `<th scope="col"${kind(column)}>${headText(name)}</th>`)
    .join("");
  const body = shown
    .map((_, row) => {
      const texts = columns.map((cells) => cells[row] ?? "");
      return `<tr>${texts.map((text, column) => `<td${cellKind(column, text)}>${escapeHtml(text)}</td>`).join("")}</tr>`;
    })
    .join("\n");
  const left = table.rows.length - shown.length;
  const more =
    left > 0 ? `<p class="more-rows">The first ${shown.length} of ${table.rows.length} rows.</p>` : "";
  return `<div class="table-scroll" tabindex="0" role="group" aria-label="${escapeHtml(label)}"><table>
<thead><tr>${head}</tr></thead>
<tbody>
${body}
</tbody></table></div>${more}`;
}

/** "Ra [µm]" with the unit set apart, as on a drawing. */
function headText(name: string): string {
  const match = /^(.*\S)\s*\[([^\]]*)\]$/.exec(name);
  if (match?.[1] === undefined || match[2] === undefined) return escapeHtml(name);
  return `${escapeHtml(match[1])} <span class="unit">${escapeHtml(match[2])}</span>`;
}

/** Numbers, or texts that are read as numbers ("0.72 µm", "below 0.0001"): they stand to the right, point under point. */
function isNumeric(cells: readonly (string | number | null)[]): boolean {
  const given = cells.filter((cell) => cell !== null && cell !== "");
  return (
    given.length > 0 && given.every((cell) => typeof cell === "number" || numberLike.test(cell as string))
  );
}

const numberLike = /^(?:below )?[-+\u2212×]?\d+(?:[.,]\d+)?(?: ?[^\s\d,]+)?$/;
