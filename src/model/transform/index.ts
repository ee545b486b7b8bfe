// The scale to fit a response on, and what the readings say of it.
export { findTransform, type Transform, type TransformChoice } from "./find-transform.ts";
