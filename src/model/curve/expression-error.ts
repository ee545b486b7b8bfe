import { ModelError } from "../error.ts";

/** An expression that can't be read as given. `column` counts characters from 1; the message shows the place with a caret. */
export class ExpressionError extends ModelError {
  readonly expression: string;
  readonly column: number;

  constructor(message: string, expression: string, column: number) {
    super(message);
    this.expression = expression;
    this.column = column;
  }
}

/** How many characters are shown to either side of the place. */
const shownAround = 60;

/** The maker of errors about an expression: what stands there, what was expected, and the place under a caret. */
export function expressionError(
  expression: string,
  column: number,
  given: string,
  expected: string,
  mend = "",
): ExpressionError {
  const from = Math.max(0, column - 1 - shownAround);
  const to = Math.min(expression.length, column - 1 + shownAround);
  const start = from > 0 ? "…" : "";
  const end = to < expression.length ? "…" : "";
  // Tabs and line ends would move the caret away from its place.
  const shown = expression.slice(from, to).replace(/\s/g, " ");
  const caret = " ".repeat(start.length + column - 1 - from) + "^";
  return new ExpressionError(
    `Column ${column} of the expression: ${given}; expected ${expected}.${mend === "" ? "" : ` ${mend}`}\n  ${start}${shown}${end}\n  ${caret}`,
    expression,
    column,
  );
}
