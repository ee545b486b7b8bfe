import type { BinarySign, FunctionName } from "./expression.ts";

/** What a node computes. `sign` is −1, 0 or 1; `powerLog` is a^b·log(a), 0 where a is 0 and b above 0, which is its limit. */
export type UnaryStep = FunctionName | "negative" | "sign";
export type BinaryStep = BinarySign | "powerLog";

/** One value of a calculation; it refers to earlier ones by their number. */
export type GraphNode =
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "column"; readonly index: number }
  | { readonly kind: "parameter"; readonly index: number }
  | { readonly kind: "unary"; readonly step: UnaryStep; readonly a: number }
  | { readonly kind: "binary"; readonly step: BinaryStep; readonly a: number; readonly b: number };

/**
 * A calculation as a list of nodes in which equal parts are held once, so that a curve and its derivatives share their work. Nodes only grow; each refers
 * to nodes before it. What is known in advance is simplified: numbers are combined, and 0 and 1 vanish from sums and products.
 */
export interface Graph {
  readonly nodes: readonly GraphNode[];
  readonly number: (value: number) => number;
  readonly column: (index: number) => number;
  readonly parameter: (index: number) => number;
  readonly unary: (step: UnaryStep, a: number) => number;
  readonly binary: (step: BinaryStep, a: number, b: number) => number;
}

export function newGraph(): Graph {
  const nodes: GraphNode[] = [];
  const known = new Map<string, number>();
  const add = (key: string, node: GraphNode): number => {
    const found = known.get(key);
    if (found !== undefined) return found;
    known.set(key, nodes.length);
    return nodes.push(node) - 1;
  };
  const valueOf = (id: number): number | null => {
    const node = nodes[id];
    return node.kind === "number" ? node.value : null;
  };
  const number = (value: number): number =>
    add(`n${Object.is(value, -0) ? "-0" : value}`, { kind: "number", value });
  const unary = (step: UnaryStep, a: number): number => {
    const value = valueOf(a);
    if (value !== null) {
      const result = unaryValue(step, value);
      if (Number.isFinite(result)) return number(result);
    }
    const inner = nodes[a];
    if (step === "negative" && inner.kind === "unary" && inner.step === "negative") return inner.a;
    return add(`${step} ${a}`, { kind: "unary", step, a });
  };
  const binary = (step: BinaryStep, a: number, b: number): number => {
    const left = valueOf(a);
    const right = valueOf(b);
    if (left !== null && right !== null) {
      const result = binaryValue(step, left, right);
      if (Number.isFinite(result)) return number(result);
    }
    const simple = simplified(step, a, b, left, right, { number, unary });
    if (simple !== null) return simple;
    // a + b and b + a, a·b and b·a are one.
    const [first, second] = (step === "+" || step === "*") && b < a ? [b, a] : [a, b];
    return add(`${first} ${step} ${second}`, { kind: "binary", step, a: first, b: second });
  };
  return {
    nodes,
    number,
    column: (index) => add(`c${index}`, { kind: "column", index }),
    parameter: (index) => add(`p${index}`, { kind: "parameter", index }),
    unary,
    binary,
  };
}

/** What needs no calculation; null where there is something to calculate. 0·x is taken as 0, so that a curve without a part has no trace of it. */
function simplified(
  step: BinaryStep,
  a: number,
  b: number,
  left: number | null,
  right: number | null,
  make: Pick<Graph, "number" | "unary">,
): number | null {
  switch (step) {
    case "+":
      return left === 0 ? b : right === 0 ? a : null;
    case "-":
      return right === 0 ? a : left === 0 ? make.unary("negative", b) : a === b ? make.number(0) : null;
    case "*":
      if (left === 0 || right === 0) return make.number(0);
      if (left === 1) return b;
      if (right === 1) return a;
      return left === -1 ? make.unary("negative", b) : right === -1 ? make.unary("negative", a) : null;
    case "/":
      return left === 0 ? make.number(0) : right === 1 ? a : null;
    case "^":
      return right === 0 ? make.number(1) : right === 1 ? a : left === 1 ? make.number(1) : null;
    case "powerLog":
      return left === 1 ? make.number(0) : null;
  }
}

export function unaryValue(step: UnaryStep, a: number): number {
  switch (step) {
    case "negative":
      return -a;
    case "sign":
      return Math.sign(a);
    case "exp":
      return Math.exp(a);
    case "log":
      return Math.log(a);
    case "sqrt":
      return Math.sqrt(a);
    case "sin":
      return Math.sin(a);
    case "cos":
      return Math.cos(a);
    case "tan":
      return Math.tan(a);
    case "atan":
      return Math.atan(a);
    case "abs":
      return Math.abs(a);
  }
}

export function binaryValue(step: BinaryStep, a: number, b: number): number {
  switch (step) {
    case "+":
      return a + b;
    case "-":
      return a - b;
    case "*":
      return a * b;
    case "/":
      return a / b;
    case "^":
      return a ** b;
    case "powerLog":
      return a === 0 && b > 0 ? 0 : a ** b * Math.log(a);
  }
}
