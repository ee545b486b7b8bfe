// The parts of ml-regression 6 that are used here and in tests; the package has no declarations of its own.
declare module "ml-regression" {
  /** Slope by the median of the slopes between all pairs of points (Theil 1950, Sen 1968). */
  export class TheilSenRegression {
    constructor(x: readonly number[], y: readonly number[]);
    readonly slope: number;
    readonly intercept: number;
    predict(x: number): number;
  }

  export class SimpleLinearRegression {
    constructor(x: readonly number[], y: readonly number[]);
    readonly slope: number;
    readonly intercept: number;
    predict(x: number): number;
  }

  export class PolynomialRegression {
    constructor(x: readonly number[], y: readonly number[], degree: number);
    /** From the constant upwards. */
    readonly coefficients: readonly number[];
    predict(x: number): number;
  }

  export class PowerRegression {
    constructor(x: readonly number[], y: readonly number[]);
    /** y = A · x^B */
    readonly A: number;
    readonly B: number;
    predict(x: number): number;
  }

  export class MultivariateLinearRegression {
    constructor(
      x: readonly (readonly number[])[],
      y: readonly (readonly number[])[],
      options?: { readonly intercept?: boolean; readonly statistics?: boolean },
    );
    /** One row a column of x, the intercept last. */
    readonly weights: readonly (readonly number[])[];
    readonly stdError: number;
    predict(x: readonly number[]): readonly number[];
  }
}
