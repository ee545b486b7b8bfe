import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ExpressionError, parseExpression } from "../../../src/model/curve/index.ts";
import { valueOf } from "./plain-value.ts";

const at = { x: 2, b1: 3, "flank wear": 0.25 };
const value = (text: string): number => valueOf(parseExpression(text).root, at);

function refusal(text: string): ExpressionError {
  try {
    parseExpression(text);
  } catch (error) {
    if (error instanceof ExpressionError) return error;
  }
  throw new Error(`${text} was not refused`);
}

describe("the expression language", () => {
  test("a power binds from the right and before a minus sign", () => {
    expect(value("2^3^2")).toBe(512);
    expect(value("-2^2")).toBe(-4);
    expect(value("2^-1")).toBe(0.5);
    expect(value("2^-2^2")).toBe(1 / 16);
    expect(value("(-2)^2")).toBe(4);
  });

  test("products bind before sums, and both go from left to right", () => {
    expect(value("1+2*3")).toBe(7);
    expect(value("12/3/2")).toBe(2);
    expect(value("10-3-2")).toBe(5);
    expect(value("2*-3")).toBe(-6);
    expect(value("--2")).toBe(2);
    expect(value("-x^2*3")).toBe(-12);
  });

  test("functions, pi, both kinds of bracket and quoted names are read", () => {
    expect(value("exp(0)+log(1)+sqrt(9)+abs(-1)")).toBe(5);
    expect(value("sin(0)+cos(0)+tan(0)+atan(0)")).toBe(1);
    expect(value("atan(1)*4")).toBe(value("pi"));
    expect(value("[b1+1]*(x)")).toBe(8);
    expect(value("'flank wear'*4")).toBe(1);
    expect(value("2**3 − 1 × 2")).toBe(6);
  });

  test("numbers are read with point and exponent", () => {
    expect(value(".5+1.+2e1+3E-1")).toBeCloseTo(21.8, 12);
  });

  test("names are listed in the order in which they appear, pi not among them", () => {
    expect(parseExpression("b1*(1-exp(-b2*x))+pi").names).toEqual(["b1", "b2", "x"]);
  });

  test("an error points at the column with a caret and says what was expected", () => {
    expect(refusal("b1*(1-exp(-b2*x)").message).toBe(
      'Column 17 of the expression: the expression ends; expected ")" for the bracket opened at column 4, or + - * / ^.\n' +
        "  b1*(1-exp(-b2*x)\n" +
        "                  ^",
    );
    expect(refusal("2x").message).toBe(
      'Column 2 of the expression: "x"; expected + - * / ^ or the end. For a product write *.\n  2x\n   ^',
    );
    expect(refusal("b1*ln(x)").message).toBe(
      'Column 4 of the expression: "ln"; expected one of the functions exp, log, sqrt, sin, cos, tan, atan and abs. Write log(x), which is the natural logarithm.\n' +
        "  b1*ln(x)\n     ^",
    );
  });

  test.each([
    ["", 1],
    ["1+", 3],
    ["*2", 1],
    ["(1]", 3],
    ["1)", 2],
    ["exp", 4],
    ["exp x", 5],
    ["a,b", 2],
    ["y=2", 2],
    ["1e999", 1],
    ["'open", 1],
    ["''", 1],
    ["b1(2)", 1],
    ["constructor(1)", 1],
    ["a;b", 2],
    ["a\u{1F600}", 2],
  ])("%s is refused at column %d", (text, column) => {
    expect(refusal(text).column).toBe(column);
  });

  test("deep nesting and long texts are refused and do not overflow", () => {
    expect(() => parseExpression("(".repeat(5000))).toThrow(/at most 200 brackets/);
    expect(() => parseExpression("-".repeat(5000) + "1")).toThrow(/at most 200 signs/);
    expect(() => parseExpression("x+".repeat(6000) + "x")).toThrow(/at most 10000/);
    expect(value(Array.from({ length: 1000 }, () => "1").join("+"))).toBe(1000);
  });

  test("any text is either read or refused with a place in it", () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(..."xb1+-*/^()[] .e'pisnlog,") }), (text) => {
        try {
          parseExpression(text);
        } catch (error) {
          expect(error).toBeInstanceOf(ExpressionError);
          if (error instanceof ExpressionError) {
            expect(error.column).toBeGreaterThanOrEqual(1);
            expect(error.column).toBeLessThanOrEqual(text.length + 1);
          }
        }
      }),
    );
  });
});
