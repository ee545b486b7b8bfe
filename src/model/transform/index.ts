// The scale to fit a response on, and what the readings say of it.
export { findTransform } from "./find-transform.ts";
export type { Transform, TransformChoice } from "./transform.ts";
