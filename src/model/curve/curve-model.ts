import type { NonlinearModel } from "../../numerics/index.ts";
import { derivative } from "./derivative.ts";
import type { Expression } from "./expression.ts";
import { newGraph } from "./graph.ts";
import { linearParameters } from "./linear-parameters.ts";
import { lower } from "./lower.ts";
import { compile } from "./program.ts";

/** An expression with its derivatives, ready to be bound to tables. */
export interface Curve {
  readonly expression: Expression;
  readonly columns: readonly string[];
  readonly parameters: readonly string[];
  /** Indices of the parameters in which it is linear, all at once. */
  readonly linear: readonly number[];
  /** The model on a table: one array a column, in the order of `columns`. */
  readonly on: (columns: readonly Float64Array[], rows: number) => NonlinearModel;
}

/**
 * Makes a curve of an expression: names sorted into columns and parameters, derivatives formed from the expression itself, linear parameters found.
 * `columns` are those that may be used; the curve keeps the ones it uses.
 */
export function curveOf(
  expression: Expression,
  columns: readonly string[],
  parameters: readonly string[],
): Curve {
  const used = columns.filter((name) => expression.names.includes(name) && !parameters.includes(name));
  const graph = newGraph();
  // All columns are offered, so that an unknown name is told what there is.
  const offered = [...used, ...columns.filter((name) => !used.includes(name))];
  const value = lower(graph, expression, { columns: offered, parameters });
  const derivatives = parameters.map((_, k) => derivative(graph, value, k));
  return {
    expression,
    columns: used,
    parameters,
    linear: linearParameters(graph, derivatives),
    on: (table, rows) => {
      const program = compile(graph, [value, ...derivatives], table, rows);
      return {
        rows,
        parameters: parameters.length,
        evaluate: (at, values, jacobian) => {
          program.run(at);
          program.read(0, values, 0);
          for (let k = 0; k < parameters.length; k++) program.read(k + 1, jacobian, k * rows);
        },
      };
    },
  };
}
