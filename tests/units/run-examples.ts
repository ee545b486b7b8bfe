import { readdirSync, readFileSync } from "node:fs";
import { expect, it } from "vitest";

/**
 * Runs each "@example CODE // ANSWER" in the comments of a folder. An answer is JavaScript (a text that ends in … is the
 * start of a longer one), or a number with words behind it, right to half a unit of its last digit.
 */
export function runExamples(folder: URL, scope: Readonly<Record<string, unknown>>): void {
  const examples = readdirSync(folder)
    .filter((file) => file.endsWith(".ts"))
    .flatMap((file) => [...readFileSync(new URL(file, folder), "utf8").matchAll(/@example (.+) \/\/ (.+)/g)]);
  it.each(examples.map(([, code = "", answer = ""]) => [code, answer] as const))(
    "%s is %s",
    (code, answer) => {
      const found = evaluated(code, scope);
      const number = /^(-?\d+(?:\.(\d+))?)(?: [^"]*)?$/.exec(answer);
      if (number !== null) {
        const value = typeof found === "object" && found !== null && "value" in found ? found.value : found;
        expect(value).toBeCloseTo(Number(number[1]), number[2]?.length ?? 0);
      } else if (answer.endsWith('…"')) expect(found).toContain(answer.slice(1, -2));
      else expect(found).toEqual(evaluated(`(${answer})`, scope));
    },
  );
}

function evaluated(code: string, scope: Readonly<Record<string, unknown>>): unknown {
  // The code is our own comments; the folder's exports are its only names.
  // eslint-disable-next-line @typescript-eslint/no-implied-eval
  const run = new Function(...Object.keys(scope), `return ${code};`) as (...values: unknown[]) => unknown;
  return run(...Object.values(scope));
}
