import type { ExpressionNode } from "../../../src/model/curve/index.ts";

/** The plain way to the value of an expression: by recursion, one number at a time. */
export function valueOf(node: ExpressionNode, at: Readonly<Record<string, number>>): number {
  switch (node.kind) {
    case "number":
      return node.value;
    case "name":
      return node.name === "pi" ? Math.PI : at[node.name];
    case "negative":
      return -valueOf(node.of, at);
    case "call":
      return Math[node.name](valueOf(node.of, at));
    case "binary": {
      const left = valueOf(node.left, at);
      const right = valueOf(node.right, at);
      switch (node.sign) {
        case "+":
          return left + right;
        case "-":
          return left - right;
        case "*":
          return left * right;
        case "/":
          return left / right;
        case "^":
          return left ** right;
      }
    }
  }
}
