// Curves by expression: reading one, fitting it, and what follows.
export { ExpressionError } from "./expression-error.ts";
export type { Expression, ExpressionNode } from "./expression.ts";
export { parseExpression } from "./parse-expression.ts";
export { curveOf, type Curve } from "./curve-model.ts";
export type { CurveFit, CurveParameter, CurveRow } from "./curve-fit.ts";
export { fitCurve, type CurveOptions } from "./fit-curve.ts";
export { settingFor, type SettingFor, type SettingForOptions } from "./setting-for.ts";
export type { ParameterProfile } from "./profile-trace.ts";
