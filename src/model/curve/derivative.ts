import type { Graph } from "./graph.ts";

/**
 * The derivative of a node with respect to one parameter, by the rules of calculus on the graph itself: exact, no differences taken. The derivative of abs
 * is the sign, 0 at its corner. What does not depend on the parameter has the number 0 as its derivative, so that dependence can be read off.
 */
export function derivative(graph: Graph, node: number, parameter: number): number {
  const known = new Map<number, number>();
  const { number, unary, binary } = graph;
  const zero = number(0);
  const one = number(1);
  // Nodes refer to earlier ones only, so going up the list meets each after its parts; no recursion, hence no depth to fear.
  for (const id of neededBy(graph, [node])) {
    const current = graph.nodes[id];
    let result = zero;
    if (current.kind === "parameter") result = current.index === parameter ? one : zero;
    else if (current.kind === "unary") {
      const inner = known.get(current.a)!;
      if (inner !== zero) result = unaryRule(id, current.step, current.a, inner);
    } else if (current.kind === "binary") {
      result = binaryRule(
        id,
        current.step,
        current.a,
        current.b,
        known.get(current.a)!,
        known.get(current.b)!,
      );
    }
    known.set(id, result);
  }
  return known.get(node)!;

  function unaryRule(id: number, step: string, a: number, inner: number): number {
    switch (step) {
      case "negative":
        return unary("negative", inner);
      case "exp":
        return binary("*", inner, id);
      case "log":
        return binary("/", inner, a);
      case "sqrt":
        return binary("/", inner, binary("*", number(2), id));
      case "sin":
        return binary("*", inner, unary("cos", a));
      case "cos":
        return unary("negative", binary("*", inner, unary("sin", a)));
      case "tan":
        return binary("*", inner, binary("+", one, binary("^", id, number(2))));
      case "atan":
        return binary("/", inner, binary("+", one, binary("^", a, number(2))));
      case "abs":
        return binary("*", inner, unary("sign", a));
      default:
        return zero;
    }
  }

  function binaryRule(id: number, step: string, a: number, b: number, da: number, db: number): number {
    switch (step) {
      case "+":
        return binary("+", da, db);
      case "-":
        return binary("-", da, db);
      case "*":
        return binary("+", binary("*", da, b), binary("*", a, db));
      case "/":
        // (da − (a/b)·db)/b: with db 0 it stays da/b, which keeps a linear parameter visible.
        return binary("/", binary("-", da, binary("*", id, db)), b);
      case "^": {
        const ofBase =
          da === zero ? zero : binary("*", da, binary("*", b, binary("^", a, binary("-", b, one))));
        const ofExponent = db === zero ? zero : binary("*", db, binary("powerLog", a, b));
        return binary("+", ofBase, ofExponent);
      }
      default: {
        // a^b·log(a), needed for second derivatives only.
        const power = binary("^", a, b);
        const ofBase =
          da === zero
            ? zero
            : binary(
                "*",
                da,
                binary(
                  "+",
                  binary("*", b, binary("powerLog", a, binary("-", b, one))),
                  binary("/", power, a),
                ),
              );
        const ofExponent = db === zero ? zero : binary("*", db, binary("*", id, unary("log", a)));
        return binary("+", ofBase, ofExponent);
      }
    }
  }
}

/** The nodes on which the given ones rest, themselves included, in the order of the list. */
export function neededBy({ nodes }: Graph, outputs: readonly number[]): readonly number[] {
  const needed = new Set<number>(outputs);
  const waiting = [...outputs];
  for (let id = waiting.pop(); id !== undefined; id = waiting.pop()) {
    const node = nodes[id];
    const parts = node.kind === "binary" ? [node.a, node.b] : node.kind === "unary" ? [node.a] : [];
    for (const part of parts) {
      if (needed.has(part)) continue;
      needed.add(part);
      waiting.push(part);
    }
  }
  return [...needed].sort((a, b) => a - b);
}

/** Whether a node depends on a parameter. */
export function dependsOn(graph: Graph, node: number, parameter: number): boolean {
  return neededBy(graph, [node]).some((id) => {
    const one = graph.nodes[id];
    return one.kind === "parameter" && one.index === parameter;
  });
}
