const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/**
 * Text made safe between tags and inside quoted attributes. Use it for every text that comes from data or from a person.
 *
 * @example escapeHtml('<img onerror="x">') // "&lt;img onerror=&quot;x&quot;&gt;"
 */
export function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (character) => entities[character] ?? character);
}
