import { blankDocument } from "./document.ts";
import type { Display } from "./shown.ts";
import type { Trial } from "../trial/index.ts";

/** What every figure takes. */
export interface FigureOptions {
  /** Default: made from what is drawn. */
  readonly title?: string;
  /** Where the SVG is made. Default: a fresh document of its own. */
  readonly document?: Document;
  /** The units that a reader sees first. Default: the trial's, else metric. */
  readonly display?: Display;
  /** The trial behind it: gives the display units, limits, roles of runs and the nose radius where a figure uses them. */
  readonly trial?: Trial;
}

/** The defaults of {@link FigureOptions}, in one place. */
export function settled(options: FigureOptions): { readonly document: Document; readonly display: Display } {
  return {
    document: options.document ?? blankDocument(),
    display: options.display ?? options.trial?.spec.display ?? "metric",
  };
}
