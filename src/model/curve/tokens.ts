import { expressionError } from "./expression-error.ts";

/** A piece of an expression and the column, from 1, at which it begins. */
export type Token =
  | { readonly kind: "number"; readonly value: number; readonly text: string; readonly column: number }
  | { readonly kind: "name"; readonly text: string; readonly quoted: boolean; readonly column: number }
  | { readonly kind: "sign"; readonly text: Sign; readonly column: number }
  | { readonly kind: "end"; readonly text: ""; readonly column: number };

export type Sign = "+" | "-" | "*" | "/" | "^" | "(" | ")" | "[" | "]";

const numberPattern = /(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
const namePattern = /[\p{L}_][\p{L}\p{N}_]*/uy;
const quotedPattern = /'([^']*)'/y;

/** Signs that a keyboard or a page gives in place of the plain ones. */
const plainSigns: Readonly<Record<string, Sign>> = { "−": "-", "×": "*", "·": "*", "÷": "/", "**": "^" };

/**
 * The tokens of an expression, "end" last. A name is letters, digits and underscores, or anything between single quotes ('flank wear').
 * Refused with the column: characters that have no meaning here, quotes that don't close, numbers too large for a double.
 */
export function tokensOf(expression: string): readonly Token[] {
  const tokens: Token[] = [];
  let place = 0;
  const matched = (pattern: RegExp): RegExpExecArray | null => {
    pattern.lastIndex = place;
    return pattern.exec(expression);
  };
  while (place < expression.length) {
    const column = place + 1;
    const character = expression[place];
    if (/\s/.test(character)) {
      place++;
      continue;
    }
    const number = matched(numberPattern);
    if (number !== null) {
      tokens.push(numberToken(expression, number[0], column));
      place += number[0].length;
      continue;
    }
    const name = matched(namePattern);
    if (name !== null) {
      tokens.push({ kind: "name", text: name[0], quoted: false, column });
      place += name[0].length;
      continue;
    }
    if (character === "'") {
      const quoted = matched(quotedPattern);
      if (quoted === null || quoted[1].trim() === "")
        throw expressionError(
          expression,
          column,
          quoted === null ? "a quote that doesn't close" : "an empty name",
          "a name between two single quotes, such as 'flank wear'",
        );
      tokens.push({ kind: "name", text: quoted[1].trim(), quoted: true, column });
      place += quoted[0].length;
      continue;
    }
    const two = expression.slice(place, place + 2);
    const sign = plainSigns[two] ?? plainSigns[character] ?? character;
    if (!isSign(sign)) throw unknownCharacter(expression, column);
    tokens.push({ kind: "sign", text: sign, column });
    place += two === "**" ? 2 : 1;
  }
  return [...tokens, { kind: "end", text: "", column: expression.length + 1 }];
}

function isSign(text: string): text is Sign {
  return "+-*/^()[]".includes(text) && text.length === 1;
}

function numberToken(expression: string, text: string, column: number): Token {
  const value = Number(text);
  if (!Number.isFinite(value))
    throw expressionError(expression, column, `the number ${text}`, "a number below 1.8e308");
  return { kind: "number", value, text, column };
}

function unknownCharacter(expression: string, column: number): Error {
  const character = String.fromCodePoint(expression.codePointAt(column - 1)!);
  const mend =
    character === ","
      ? "Numbers have a decimal point here, 0.5; functions take one value."
      : character === "="
        ? "Give the right-hand side only; the response is named apart from it."
        : character === "{" || character === "}"
          ? "Use round or square brackets."
          : character === '"'
            ? "Names with spaces stand between single quotes, 'flank wear'."
            : "";
  return expressionError(
    expression,
    column,
    `"${character}"`,
    "a number, a name, one of + - * / ^ or a bracket",
    mend,
  );
}
