export type { CommonOptions } from "./common-options.ts";
export { LayoutError, LimitError, type LimitFinding } from "./error.ts";
export type { Judgement, TermJudgement } from "./judgement.ts";
export type { Anchor, Layout, LayoutKind, StandardLayout, StandardRun } from "./layout.ts";
export { kinds } from "./kinds.ts";
export { layOut, type LayoutRequest } from "./lay-out.ts";
export { judge, type JudgeOptions } from "./judge/judge.ts";
export { correlationWithOrder } from "./correlation-with-order.ts";
export { judgementJson, layoutJson } from "./layout-json.ts";
