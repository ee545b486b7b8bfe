import type { LimitFor } from "./limit-for.ts";

/** How often bounds by mixed fits held in simulation: the figures of the committed table of coverage, 10,000 drawn split plots each. A test holds the two together. */
export const mixedCoverage: Readonly<Partial<Record<LimitFor, string>>> = {
  mean: "95.1 to 97.3 % of drawn split plots with 4 to 8 set-ups of 2 runs, where 95 % was asked (the more, the less set-ups differ and the fewer they are)",
  next: "95.1 to 95.7 % of drawn split plots with 4 to 8 set-ups of 2 runs, where 95 % was asked",
  share:
    "94.3 to 96.2 % of drawn split plots with 4 to 8 set-ups of 2 runs, where 95 % was asked (its degrees of freedom are Satterthwaite's, an approximation)",
};
