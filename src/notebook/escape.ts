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

/**
 * Text as the inside of a CSS string in double quotes, as in `content: "…"` of a page's margin box. Every character that could
 * end the string, the rule or the style element is written as a hexadecimal escape (CSS Syntax Module Level 3, §4.3.7).
 */
export function escapeCssString(text: string): string {
  return text.replace(
    /[^\p{L}\p{N} .,:()/·–-]/gu,
    (character) => `\\${character.codePointAt(0)!.toString(16)} `,
  );
}
