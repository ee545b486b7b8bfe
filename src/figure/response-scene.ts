import type { ResponseGroup } from "./response-groups.ts";
import type { Display, Shown } from "./shown.ts";
import type { Fit, ObservedFactor } from "../model/index.ts";

/** All that a response figure shows, worked out; limit and ideal in the fit's units. */
export interface ResponseScene {
  readonly fit: Fit;
  readonly along: ObservedFactor;
  readonly apart: ObservedFactor | null;
  readonly groups: readonly ResponseGroup[];
  readonly limit: number | null;
  readonly forbidden: "above" | "below" | "neither";
  readonly ideal: readonly { readonly x: number; readonly y: number }[];
  readonly idealLabel: string;
  readonly single: "shown" | "hidden";
  readonly readings: "as-read" | "adjusted";
  readonly scales: { readonly x: "linear" | "log"; readonly y: "linear" | "log" };
  readonly shown: { readonly x: Shown; readonly y: Shown };
  readonly display: Display;
}
