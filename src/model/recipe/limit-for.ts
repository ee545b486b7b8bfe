/** Of whom a limit must hold: the mean of all parts, a stated share of all parts, or each of the next parts. */
export type LimitFor = "mean" | "share" | "next";
