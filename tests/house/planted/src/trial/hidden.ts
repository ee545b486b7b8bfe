import { trial } from "./index.ts";

export const hidden: unknown = trial;
