import { readFileSync } from "node:fs";

/** The curves of NIST's nonlinear reference sets, written in the language of this project; `b` parameters in order, predictors x, or x1 and x2. */
export const nonlinearModels: Readonly<Record<string, string>> = {
  Bennett5: "b1*(b2+x)^(-1/b3)",
  BoxBOD: "b1*(1-exp(-b2*x))",
  Chwirut1: "exp(-b1*x)/(b2+b3*x)",
  Chwirut2: "exp(-b1*x)/(b2+b3*x)",
  DanWood: "b1*x^b2",
  ENSO: "b1 + b2*cos(2*pi*x/12) + b3*sin(2*pi*x/12) + b5*cos(2*pi*x/b4) + b6*sin(2*pi*x/b4) + b8*cos(2*pi*x/b7) + b9*sin(2*pi*x/b7)",
  Eckerle4: "(b1/b2)*exp(-0.5*((x-b3)/b2)^2)",
  Gauss1: "b1*exp(-b2*x) + b3*exp(-(x-b4)^2/b5^2) + b6*exp(-(x-b7)^2/b8^2)",
  Gauss2: "b1*exp(-b2*x) + b3*exp(-(x-b4)^2/b5^2) + b6*exp(-(x-b7)^2/b8^2)",
  Gauss3: "b1*exp(-b2*x) + b3*exp(-(x-b4)^2/b5^2) + b6*exp(-(x-b7)^2/b8^2)",
  Hahn1: "(b1+b2*x+b3*x^2+b4*x^3)/(1+b5*x+b6*x^2+b7*x^3)",
  Kirby2: "(b1+b2*x+b3*x^2)/(1+b4*x+b5*x^2)",
  Lanczos1: "b1*exp(-b2*x) + b3*exp(-b4*x) + b5*exp(-b6*x)",
  Lanczos2: "b1*exp(-b2*x) + b3*exp(-b4*x) + b5*exp(-b6*x)",
  Lanczos3: "b1*exp(-b2*x) + b3*exp(-b4*x) + b5*exp(-b6*x)",
  MGH09: "b1*(x^2+x*b2)/(x^2+x*b3+b4)",
  MGH10: "b1*exp(b2/(x+b3))",
  MGH17: "b1 + b2*exp(-x*b4) + b3*exp(-x*b5)",
  Misra1a: "b1*(1-exp(-b2*x))",
  Misra1b: "b1*(1-(1+b2*x/2)^(-2))",
  Misra1c: "b1*(1-(1+2*b2*x)^(-0.5))",
  Misra1d: "b1*b2*x*((1+b2*x)^(-1))",
  Nelson: "b1 - b2*x1*exp(-b3*x2)",
  Rat42: "b1/(1+exp(b2-b3*x))",
  Rat43: "b1/((1+exp(b2-b3*x))^(1/b4))",
  Roszman1: "b1 - b2*x - atan(b3/(x-b4))/pi",
  Thurber: "(b1+b2*x+b3*x^2+b4*x^3)/(1+b5*x+b6*x^2+b7*x^3)",
};

export interface NonlinearSet {
  readonly name: string;
  readonly response: readonly number[];
  readonly predictors: readonly (readonly number[])[];
  readonly parameters: readonly {
    readonly starts: readonly [number, number];
    readonly estimate: number;
    readonly standardError: number;
  }[];
  readonly residualSumOfSquares: number;
  readonly residualSd: number;
}

const folder = new URL("../fixtures/strd/nonlinear/", import.meta.url);

export function readNonlinearSet(name: string): NonlinearSet {
  return JSON.parse(readFileSync(new URL(`${name.toLowerCase()}.json`, folder), "utf8")) as NonlinearSet;
}
