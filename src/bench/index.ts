export { createBench } from "./bench.ts";
export type { BenchContext } from "./bench-context.ts";
export { BenchError } from "./error.ts";
export { defaultPort, startBench, type StartedBench, type StartOptions } from "./start.ts";
