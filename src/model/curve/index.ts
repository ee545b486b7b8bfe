// Curves by expression: reading one, fitting it, and what follows.
export { ExpressionError } from "./expression-error.ts";
export type { Expression, ExpressionNode } from "./expression.ts";
export { parseExpression } from "./parse-expression.ts";
export { curveOf, type Curve } from "./curve-model.ts";
export type { CurveFit, CurveParameter, CurvePrediction, CurveRow, CurveStarts } from "./curve-fit.ts";
export { fitCurve, type CurveOptions } from "./fit-curve.ts";
export type { ParameterProfile } from "./profile-trace.ts";
export type { SettingFor, SettingForOptions } from "./setting-answer.ts";
export { settingFor } from "./setting-for.ts";
