export type { Remark } from "./remark.ts";
export { fitRemarks, observedRemarks, remarks } from "./remarks.ts";
export { remarkMethod } from "./remark-methods.ts";
export { separatingRuns } from "./separating-runs.ts";
export { intervalInflation } from "./inflation.ts";
export { ReviewError } from "./error.ts";
export { whatNext, type WhatNext } from "./what-next.ts";
