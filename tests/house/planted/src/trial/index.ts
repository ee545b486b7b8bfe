import { hidden } from "./hidden.ts";

export const trial = hidden;
