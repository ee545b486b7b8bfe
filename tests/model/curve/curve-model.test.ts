import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { curveOf, parseExpression } from "../../../src/model/curve/index.ts";
import { nonlinearModels } from "../../reference/strd-nonlinear-models.ts";
import { valueOf } from "./plain-value.ts";

const parameters = ["b1", "b2", "b3"];

/** Value and derivatives of a curve at one point. */
function at(text: string, b: readonly number[], x: number, names: readonly string[] = parameters) {
  const curve = curveOf(parseExpression(text), ["x"], names);
  const model = curve.on(
    curve.columns.map(() => Float64Array.of(x)),
    1,
  );
  const value = new Float64Array(1);
  const jacobian = new Float64Array(names.length);
  model.evaluate(Float64Array.from(b), value, jacobian);
  return { value: value[0], derivatives: [...jacobian] };
}

/** Texts of expressions that are smooth and finite near the points used below. */
const smooth: fc.Arbitrary<string> = fc.letrec<{ whole: string }>((tie) => ({
  whole: fc.oneof(
    { depthSize: "small", withCrossShrink: true },
    fc.constantFrom("b1", "b2", "b3", "x", "2", "0.5", "pi"),
    fc.tuple(fc.constantFrom("+", "-", "*"), tie("whole"), tie("whole")).map(([s, a, b]) => `(${a}${s}${b})`),
    tie("whole").map((a) => `sin(${a})`),
    tie("whole").map((a) => `cos(${a})`),
    tie("whole").map((a) => `atan(${a})`),
    tie("whole").map((a) => `exp(-(${a})^2)`),
    tie("whole").map((a) => `sqrt(1+(${a})^2)`),
    tie("whole").map((a) => `log(2+(${a})^2)`),
    fc.tuple(tie("whole"), tie("whole")).map(([a, b]) => `(${a})/(1+(${b})^2)`),
    fc.tuple(tie("whole"), tie("whole")).map(([a, b]) => `(1+(${a})^2)^(atan(${b}))`),
  ),
})).whole;

describe("a curve made of an expression", () => {
  test("its value is that of a plain recursive evaluation", () => {
    fc.assert(
      fc.property(smooth, (text) => {
        const plain = valueOf(parseExpression(text).root, { b1: 0.7, b2: -0.4, b3: 1.3, x: 0.6 });
        const { value } = at(text, [0.7, -0.4, 1.3], 0.6);
        // Products in place of pow and shared parts may round otherwise.
        expect(Math.abs(value - plain)).toBeLessThanOrEqual(1e-12 * Math.max(1, Math.abs(plain)));
      }),
    );
  });

  test("its derivatives agree with central differences", () => {
    fc.assert(
      fc.property(smooth, (text) => {
        const b = [0.7, -0.4, 1.3];
        const { derivatives } = at(text, b, 0.6);
        b.forEach((_, k) => {
          const h = 1e-5;
          const shifted = (by: number) =>
            at(
              text,
              b.map((value, j) => (j === k ? value + by : value)),
              0.6,
            ).value;
          const difference = (shifted(h) - shifted(-h)) / (2 * h);
          // Error of a central difference: h²/6 of the third derivative, and rounding over h.
          const size = 1 + Math.abs(difference) + Math.abs(shifted(0));
          if (size < 1e3) expect(Math.abs(derivatives[k] - difference)).toBeLessThan(2e-4 * size);
        });
      }),
    );
  });

  test("derivatives are exact where calculus gives them in closed form", () => {
    const { derivatives } = at("b1*exp(-b2*x)", [2, 0.5], 3, ["b1", "b2"]);
    expect(derivatives).toEqual([Math.exp(-1.5), -(3 * (2 * Math.exp(-1.5)))]);
  });

  test("a power of zero has its limits as value and derivative", () => {
    expect(at("b1*x^b2", [2, 1.5], 0, ["b1", "b2"])).toEqual({ value: 0, derivatives: [0, 0] });
  });

  test.each([
    ["b1*(1-exp(-b2*x))", ["b1"]],
    ["(b1+b2*x)/(1+b3*x)", ["b1", "b2"]],
    ["b1*b2*x+b3", ["b1", "b3"]],
    ["exp(-b1*x)/(b2+b3*x)", []],
    ["b1+b2*x+b3*x^2", ["b1", "b2", "b3"]],
    ["b1*x^b2+b1^2+b3", ["b3"]],
  ])("%s is linear in %j", (text, expected) => {
    const curve = curveOf(parseExpression(text), ["x"], parameters);
    expect(curve.linear.map((k) => parameters[k])).toEqual(expected);
  });

  test("in each of NIST's curves a linear parameter's derivative does not move with any of them", () => {
    for (const [name, text] of Object.entries(nonlinearModels)) {
      const names = [...new Set(text.match(/b\d/g))].sort();
      const columns = name === "Nelson" ? ["x1", "x2"] : ["x"];
      const curve = curveOf(parseExpression(text), columns, names);
      const model = curve.on(
        columns.map(() => Float64Array.of(1.7)),
        1,
      );
      const derivativesAt = (scale: number) => {
        const b = Float64Array.from(
          names,
          (_, k) => (curve.linear.includes(k) ? scale : 1) * (0.4 + 0.1 * k),
        );
        const jacobian = new Float64Array(names.length);
        model.evaluate(b, new Float64Array(1), jacobian);
        return curve.linear.map((k) => jacobian[k]);
      };
      expect(derivativesAt(7)).toEqual(derivativesAt(1));
    }
  });

  test("an unknown name is refused at its column with what it may be", () => {
    expect(() => curveOf(parseExpression("b1*feed"), ["Feed", "speed"], ["b1"])).toThrow(
      'Column 4 of the expression: the unknown name "feed"; expected a column (Feed or speed), a parameter (b1) or a function (exp, log, sqrt, sin, cos, tan, atan or abs). Did you mean Feed?\n  b1*feed\n     ^',
    );
  });
});
