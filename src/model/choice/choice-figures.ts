import type { Fit, Uncertain } from "../fit.ts";
import type { ModelsWithinReach } from "../screening/models-within-reach.ts";
import type { ChoiceTarget } from "./choice-targets.ts";

export interface ChoiceFigure extends Pick<ChoiceTarget, "what" | "label" | "as" | "byFit"> {
  /** With an interval that knows of the choice, on the response's own scale. */
  readonly value: Uncertain;
}

export interface ChoiceBootstrap {
  /** The best model within reach, fitted; it carries how it was chosen, and how many times as wide its intervals come out. */
  readonly fit: Fit;
  readonly within: ModelsWithinReach;
  readonly figures: readonly ChoiceFigure[];
  /** For each term chosen in any draw: the share of draws in which it was, largest first. */
  readonly chosen: readonly { readonly label: string; readonly share: number }[];
  /** The middle of how many times as wide the effects of the chosen model come out as in its own fit; null where that can't be told. */
  readonly widening: number | null;
  readonly confidence: number;
  readonly seed: number;
  readonly asked: number;
  readonly draws: number;
  readonly stopped: boolean;
  readonly sentences: readonly string[];
}
