/**
 * A source of scatter as it is told: what runs share of a factor that is hard to change is a set-up, on every page and in every sentence. The name that calls it, in
 * options, JSON and plan.csv, is the standard's: whole plot (ISO 3534-3).
 * @example sourceWords("whole plot + spot") // "set-up + spot"
 */
export function sourceWords(source: string): string {
  return source
    .split(" + ")
    .map((name) => (name === "whole plot" ? "set-up" : name))
    .join(" + ");
}
