export { powerColumn, productColumn, type DesignColumn } from "./design-column.ts";
export { leastSquares, type Dependence, type LeastSquares } from "./least-squares.ts";
export { NumericsError } from "./error.ts";
