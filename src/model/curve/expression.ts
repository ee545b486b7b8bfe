/** The functions that an expression may call. `log` is the natural logarithm; angles are in radians. */
export const functionNames = ["exp", "log", "sqrt", "sin", "cos", "tan", "atan", "abs"] as const;
export type FunctionName = (typeof functionNames)[number];

export type BinarySign = "+" | "-" | "*" | "/" | "^";

/** An expression as a tree. `column` is where its sign or name stands in the text, from 1. */
export type ExpressionNode =
  | { readonly kind: "number"; readonly value: number; readonly column: number }
  | { readonly kind: "name"; readonly name: string; readonly column: number }
  | {
      readonly kind: "binary";
      readonly sign: BinarySign;
      readonly left: ExpressionNode;
      readonly right: ExpressionNode;
      readonly column: number;
    }
  | { readonly kind: "negative"; readonly of: ExpressionNode; readonly column: number }
  | {
      readonly kind: "call";
      readonly name: FunctionName;
      readonly of: ExpressionNode;
      readonly column: number;
    };

/** An expression that was read: its text, its tree, and the names in it in the order in which they appear (`pi` is not among them). */
export interface Expression {
  readonly text: string;
  readonly root: ExpressionNode;
  readonly names: readonly string[];
}

/** Every node of a tree, each before what it is made of. */
export function* nodesOf(root: ExpressionNode): Generator<ExpressionNode> {
  const waiting: ExpressionNode[] = [root];
  for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
    yield node;
    if (node.kind === "binary") waiting.push(node.right, node.left);
    else if (node.kind === "negative" || node.kind === "call") waiting.push(node.of);
  }
}
