import { listed } from "../../units/index.ts";
import { modelError } from "../error.ts";
import { expressionError } from "./expression-error.ts";
import { functionNames, nodesOf } from "./expression.ts";
import type { Expression, ExpressionNode, FunctionName } from "./expression.ts";
import { tokensOf } from "./tokens.ts";
import type { Token } from "./tokens.ts";

/** Longer and deeper expressions than anyone writes by hand are refused, so that nothing overflows. */
const longestText = 10_000;
const deepest = 200;

/** What other writings call the functions here. */
const otherNames: Readonly<Record<string, string>> = {
  ln: "log(x), which is the natural logarithm",
  log10: "log(x)/log(10)",
  log2: "log(x)/log(2)",
  arctan: "atan(x)",
  asin: "atan(x/sqrt(1-x^2))",
  acos: "pi/2-atan(x/sqrt(1-x^2))",
  pow: "x^y",
  sqr: "x^2",
  tanh: "1-2/(exp(2*x)+1)",
};

/**
 * Reads an expression: numbers, names of columns and parameters, `+ - * / ^`, round or square brackets, and exp, log (natural), sqrt, sin, cos, tan,
 * atan, abs, pi. It is parsed into a tree and never run as code.
 *
 * `^` binds strongest and from the right (2^3^2 is 2^9); a minus sign before a power belongs to the whole power (−2^2 is −4); * and / bind stronger than
 * + and −, all four from the left. A multiplication sign is never left out. Names with spaces or signs stand in single quotes: 'flank wear'.
 * Refused with an {@link ExpressionError} that points at the column and says what was expected.
 *
 * @example parseExpression("b1*(1-exp(-b2*x))").names // ["b1", "b2", "x"]
 */
export function parseExpression(text: string): Expression {
  if (typeof text !== "string")
    throw modelError("an expression that is no text", "text such as b1*exp(-b2*x)");
  if (text.length > longestText)
    throw modelError(`an expression of ${text.length} characters`, `at most ${longestText}`);
  const root = treeOf(text, tokensOf(text));
  const names: string[] = [];
  for (const node of nodesOf(root)) if (node.kind === "name" && node.name !== "pi") names.push(node.name);
  return { text, root, names: [...new Set(names)] };
}

function treeOf(text: string, tokens: readonly Token[]): ExpressionNode {
  let place = 0;
  let depth = 0;
  const next = (): Token => tokens[place];
  const refuse = (token: Token, expected: string, mend = ""): Error =>
    expressionError(text, token.column, tokenText(token), expected, mend);

  /** The sign that stands next, if it is one of these; it is taken. */
  const taken = <Wanted extends string>(
    signs: readonly Wanted[],
  ): { sign: Wanted; column: number } | null => {
    const token = next();
    const sign = token.kind === "sign" ? signs.find((one) => one === (token.text as string)) : undefined;
    if (sign === undefined) return null;
    place++;
    return { sign, column: token.column };
  };

  const sum = (): ExpressionNode => {
    if (++depth > deepest) throw refuse(next(), `at most ${deepest} brackets within one another`);
    let left = product();
    for (let found = taken(["+", "-"]); found !== null; found = taken(["+", "-"]))
      left = { kind: "binary", sign: found.sign, left, right: product(), column: found.column };
    depth--;
    return left;
  };
  const product = (): ExpressionNode => {
    let left = signed();
    for (let found = taken(["*", "/"]); found !== null; found = taken(["*", "/"]))
      left = { kind: "binary", sign: found.sign, left, right: signed(), column: found.column };
    return left;
  };
  const signed = (): ExpressionNode => {
    const found = taken(["-", "+"]);
    if (found === null) return raised();
    if (++depth > deepest) throw refuse(next(), `at most ${deepest} signs in a row`);
    const of = signed();
    depth--;
    return found.sign === "-" ? { kind: "negative", of, column: found.column } : of;
  };
  const raised = (): ExpressionNode => {
    const base = atom();
    const found = taken(["^"]);
    if (found === null) return base;
    if (++depth > deepest) throw refuse(next(), `at most ${deepest} powers within one another`);
    // The exponent takes a sign of its own and any further power: 2^-3^2 is 2^(-(3^2)).
    const right = signed();
    depth--;
    return { kind: "binary", sign: "^", left: base, right, column: found.column };
  };
  const bracketed = (opening: "(" | "["): ExpressionNode => {
    const closing = opening === "(" ? ")" : "]";
    const openedAt = next().column;
    place++;
    const inside = sum();
    if (taken([closing]) === null)
      throw refuse(
        next(),
        `"${closing}" for the bracket opened at column ${openedAt}, or + - * / ^`,
        missingSign(next()),
      );
    return inside;
  };
  const atom = (): ExpressionNode => {
    const token = next();
    if (token.kind === "number") {
      place++;
      return { kind: "number", value: token.value, column: token.column };
    }
    if (token.kind === "name") {
      place++;
      const after = next();
      const opens = after.kind === "sign" && (after.text === "(" || after.text === "[") ? after.text : null;
      const name = token.quoted ? undefined : functionNames.find((one) => one === token.text);
      if (name !== undefined) return call(name, token, opens);
      if (opens !== null && after.column === token.column + token.text.length && !token.quoted)
        throw refuse(token, ...unknownFunction(token.text));
      return { kind: "name", name: token.text, column: token.column };
    }
    if (token.kind === "sign" && (token.text === "(" || token.text === "[")) return bracketed(token.text);
    throw refuse(token, "a number, a column, a parameter, a function or an opening bracket");
  };
  const call = (name: FunctionName, token: Token, opens: "(" | "[" | null): ExpressionNode => {
    if (opens === null) throw refuse(next(), `"(" after ${name}, as in ${name}(x)`);
    return { kind: "call", name, of: bracketed(opens), column: token.column };
  };

  if (tokens.length === 1) throw refuse(next(), "an expression such as b1*exp(-b2*x)");
  const root = sum();
  const rest = next();
  if (rest.kind !== "end") throw refuse(rest, "+ - * / ^ or the end", missingSign(rest));
  return root;
}

function tokenText(token: Token): string {
  return token.kind === "end" ? "the expression ends" : `"${token.text}"`;
}

/** A name, number or bracket where a sign should stand is most often a product written as on paper. */
function missingSign(token: Token): string {
  if (token.kind === "end") return "";
  if (token.kind === "sign" && token.text !== "(" && token.text !== "[")
    return token.text === ")" || token.text === "]" ? "No bracket of this kind is open here." : "";
  return "For a product write *.";
}

function unknownFunction(name: string): [string, string] {
  const other = Object.hasOwn(otherNames, name) ? otherNames[name] : undefined;
  return [
    `one of the functions ${listed(functionNames)}`,
    other === undefined ? `For a product write ${name}*(…).` : `Write ${other}.`,
  ];
}
