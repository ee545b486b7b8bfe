/** Words that no reader should meet: a number that is none, or a hole in a sentence. */
const holes = /\bNaN\b|\bInfinity\b|∞|\bundefined\b|\[object /u;

/** How far down an answer is read. */
const deepest = 12;

/**
 * Every place in an answer where a number is not finite, a value is left out of a list, or a text has a hole; by its path. Getters are read, so that what is made
 * only when asked for is looked at too. Functions are left alone: whoever calls the walker calls them.
 */
export function unreadable(answer: unknown): readonly string[] {
  const found: string[] = [];
  const seen = new Set<object>();
  const walk = (value: unknown, path: string, depth: number): void => {
    if (typeof value === "number") {
      if (!Number.isFinite(value)) found.push(`${path} is ${value}`);
      return;
    }
    if (typeof value === "string") {
      const hole = holes.exec(value);
      if (hole !== null) found.push(`${path} reads "${around(value, hole.index)}"`);
      return;
    }
    if (typeof value !== "object" || value === null || depth > deepest || seen.has(value)) return;
    seen.add(value);
    if (ArrayBuffer.isView(value) || Array.isArray(value)) {
      Array.from(value as ArrayLike<unknown>).forEach((entry, i) => {
        if (entry === undefined) found.push(`${path}[${i}] is left out`);
        walk(entry, `${path}[${i}]`, depth + 1);
      });
      return;
    }
    if (value instanceof Map) {
      for (const [key, entry] of value) walk(entry, `${path}.${String(key)}`, depth + 1);
      return;
    }
    for (const key of Object.keys(value))
      walk((value as Record<string, unknown>)[key], `${path}.${key}`, depth + 1);
  };
  walk(answer, "answer", 0);
  return found;
}

const around = (text: string, index: number): string => text.slice(Math.max(0, index - 40), index + 40);
