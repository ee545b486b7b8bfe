/**
 * Words as a sentence lists them. Use it in messages and sentences.
 *
 * @example listed(["feed", "speed", "edge"]) // "feed, speed and edge"
 */
export function listed(words: readonly string[], last: "and" | "or" = "and"): string {
  if (words.length < 2) return words.join("");
  return `${words.slice(0, -1).join(", ")} ${last} ${words[words.length - 1]}`;
}
