import { neededBy } from "./derivative.ts";
import { binaryValue, unaryValue } from "./graph.ts";
import type { BinaryStep, Graph, UnaryStep } from "./graph.ts";

/** A calculation made ready for one table: run it with parameters, then read its outputs. */
export interface Program {
  /** Computes every output for every row. */
  readonly run: (parameters: Float64Array) => void;
  /** The k-th output of the last run, copied into `to` from `start` on, one entry a row. */
  readonly read: (output: number, to: Float64Array, start: number) => void;
}

interface Instruction {
  readonly unary: UnaryStep | null;
  readonly binary: BinaryStep | null;
  readonly to: number;
  readonly a: number;
  readonly aStep: number;
  readonly b: number;
  readonly bStep: number;
  readonly count: number;
}

/**
 * Lays a calculation out on one flat array: a cell for each value that is the same in every row, a stretch of `rows` cells for the others. What depends on
 * the columns alone is computed here, once; what depends on parameters becomes a flat list of instructions, each a plain loop.
 */
export function compile(
  graph: Graph,
  outputs: readonly number[],
  columns: readonly Float64Array[],
  rows: number,
): Program {
  const needed = neededBy(graph, outputs);
  const place = new Map<number, number>();
  const stride = new Map<number, 0 | 1>();
  const moving = new Map<number, boolean>();
  let size = 0;
  for (const id of needed) {
    const node = graph.nodes[id];
    const parts = node.kind === "binary" ? [node.a, node.b] : node.kind === "unary" ? [node.a] : [];
    const perRow = node.kind === "column" || parts.some((part) => stride.get(part) === 1);
    stride.set(id, perRow ? 1 : 0);
    moving.set(id, node.kind === "parameter" || parts.some((part) => moving.get(part) === true));
    place.set(id, size);
    size += perRow ? rows : 1;
  }
  const memory = new Float64Array(size);
  const parameters: { readonly index: number; readonly to: number }[] = [];
  const instructions: Instruction[] = [];
  for (const id of needed) {
    const node = graph.nodes[id];
    const to = place.get(id)!;
    if (node.kind === "number") memory[to] = node.value;
    else if (node.kind === "column") memory.set(columns[node.index], to);
    else if (node.kind === "parameter") parameters.push({ index: node.index, to });
    else {
      const b = node.kind === "binary" ? node.b : node.a;
      const instruction: Instruction = {
        unary: node.kind === "unary" ? node.step : null,
        binary: node.kind === "binary" ? node.step : null,
        to,
        a: place.get(node.a)!,
        aStep: stride.get(node.a)!,
        b: place.get(b)!,
        bStep: stride.get(b)!,
        count: stride.get(id) === 1 ? rows : 1,
      };
      if (moving.get(id) === true) instructions.push(instruction);
      else execute(memory, instruction);
    }
  }
  return {
    run: (values) => {
      for (const { index, to } of parameters) memory[to] = values[index];
      for (const instruction of instructions) execute(memory, instruction);
    },
    read: (output, to, start) => {
      const from = place.get(outputs[output])!;
      if (stride.get(outputs[output]) === 1) to.set(memory.subarray(from, from + rows), start);
      else to.fill(memory[from], start, start + rows);
    },
  };
}

/** One instruction. The common steps have loops of their own, which the engine can keep tight; small whole powers are products, exact to the last bit. */
function execute(m: Float64Array, { unary, binary, to, a, aStep, b, bStep, count }: Instruction): void {
  if (unary !== null) {
    if (unary === "exp") for (let i = 0; i < count; i++) m[to + i] = Math.exp(m[a + i * aStep]);
    else if (unary === "negative") for (let i = 0; i < count; i++) m[to + i] = -m[a + i * aStep];
    else for (let i = 0; i < count; i++) m[to + i] = unaryValue(unary, m[a + i * aStep]);
    return;
  }
  switch (binary) {
    case "+":
      for (let i = 0; i < count; i++) m[to + i] = m[a + i * aStep] + m[b + i * bStep];
      return;
    case "-":
      for (let i = 0; i < count; i++) m[to + i] = m[a + i * aStep] - m[b + i * bStep];
      return;
    case "*":
      for (let i = 0; i < count; i++) m[to + i] = m[a + i * aStep] * m[b + i * bStep];
      return;
    case "/":
      for (let i = 0; i < count; i++) m[to + i] = m[a + i * aStep] / m[b + i * bStep];
      return;
    case "^": {
      const exponent = bStep === 0 ? m[b] : NaN;
      if (exponent === 2) for (let i = 0; i < count; i++) m[to + i] = m[a + i * aStep] * m[a + i * aStep];
      else if (exponent === 3)
        for (let i = 0; i < count; i++) m[to + i] = m[a + i * aStep] * m[a + i * aStep] * m[a + i * aStep];
      else for (let i = 0; i < count; i++) m[to + i] = m[a + i * aStep] ** m[b + i * bStep];
      return;
    }
    default:
      for (let i = 0; i < count; i++) m[to + i] = binaryValue("powerLog", m[a + i * aStep], m[b + i * bStep]);
  }
}
