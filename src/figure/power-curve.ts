/** The chance of seeing an effect, 0 to 1, along something: number of passes, or size of the effect. */
export interface PowerCurve {
  /** What tells it from the others, such as "feed" or "effect 0.2 µm"; may be empty where there is one. */
  readonly label: string;
  readonly points: readonly { readonly x: number; readonly power: number }[];
}
