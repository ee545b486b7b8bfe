import { listed } from "../../units/index.ts";
import { expressionError } from "./expression-error.ts";
import { functionNames, nodesOf } from "./expression.ts";
import type { Expression, ExpressionNode } from "./expression.ts";
import type { Graph } from "./graph.ts";

/** What the names of an expression may stand for. */
export interface Names {
  readonly columns: readonly string[];
  readonly parameters: readonly string[];
}

/**
 * Puts an expression into a graph: a name is a parameter or a column; `pi` is the number unless a column or parameter bears the name.
 * Refused with the column: names that are neither, with the likeliest meant.
 * @returns the node that holds the expression's value
 */
export function lower(graph: Graph, expression: Expression, names: Names): number {
  const done = new Map<ExpressionNode, number>();
  // Parts come after what they make up in `nodesOf`, so the reverse order meets each after its parts.
  for (const node of [...nodesOf(expression.root)].reverse()) done.set(node, lowered(node));
  return done.get(expression.root)!;

  function lowered(node: ExpressionNode): number {
    switch (node.kind) {
      case "number":
        return graph.number(node.value);
      case "name":
        return named(node.name, node.column);
      case "negative":
        return graph.unary("negative", done.get(node.of)!);
      case "call":
        return graph.unary(node.name, done.get(node.of)!);
      case "binary":
        return graph.binary(node.sign, done.get(node.left)!, done.get(node.right)!);
    }
  }

  function named(name: string, column: number): number {
    const parameter = names.parameters.indexOf(name);
    if (parameter >= 0) return graph.parameter(parameter);
    const place = names.columns.indexOf(name);
    if (place >= 0) return graph.column(place);
    if (name === "pi") return graph.number(Math.PI);
    throw unknownName(expression.text, name, column, names);
  }
}

function unknownName(text: string, name: string, column: number, { columns, parameters }: Names): Error {
  const all = [...columns, ...parameters];
  const meant = all.find((one) => one.toLowerCase() === name.toLowerCase());
  const mend =
    meant !== undefined
      ? `Did you mean ${meant}?`
      : name === "e"
        ? "For Euler's number write exp(1)."
        : /^[a-zA-Z]\w*$/.test(name) && parameters.length > 0
          ? `If ${name} is a parameter, give it a start.`
          : "";
  const expected = [
    columns.length > 0 ? `a column (${listed(columns.slice(0, 12), "or")})` : "",
    parameters.length > 0 ? `a parameter (${listed(parameters.slice(0, 12), "or")})` : "",
    `a function (${listed(functionNames.slice(0, 12), "or")})`,
  ].filter((part) => part !== "");
  return expressionError(text, column, `the unknown name "${name}"`, listed(expected, "or"), mend);
}
