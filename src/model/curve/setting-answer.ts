export interface SettingForOptions {
  /** The quantity to set. */
  readonly factor: string;
  /** The response wanted (or seen), in its unit. */
  readonly response: number;
  /** How many readings the response seen is the mean of; Infinity for a wanted mean response. Default 1. */
  readonly readings?: number;
  /** The other factors. Default: as `Fit.predict`. */
  readonly at?: Readonly<Record<string, number | string>>;
  /** Default 0.95. */
  readonly confidence?: number;
}

/** A setting with the interval of settings that the response does not rule out. */
export interface SettingFor {
  readonly factor: string;
  readonly unit: string;
  /** Null where no setting in the range that was cut gives the response. */
  readonly estimate: number | null;
  /** Stretches of settings, within one range's width beyond what was cut, that the response does not rule out; an end at the search's own edge is open. */
  readonly pieces: readonly { readonly low: number | null; readonly high: number | null }[];
  readonly confidence: number;
}
