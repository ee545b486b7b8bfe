import { hidden } from "../trial/hidden.ts";

export const layOut = hidden;
