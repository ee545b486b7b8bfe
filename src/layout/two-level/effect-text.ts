/** How effects are written: "ABC" where every factor has a one-letter name, "feed × speed" otherwise. */
export interface EffectNames {
  readonly names: readonly string[];
  readonly joint: string;
}

export function effectNames(names: readonly string[]): EffectNames {
  return { names, joint: names.every((name) => [...name].length === 1) ? "" : " × " };
}

/** The effect of the factors at these places, in words. */
export function effectText({ names, joint }: EffectNames, places: readonly number[]): string {
  return places.map((place) => names[place] ?? "").join(joint);
}

/** "ABC" or "−ABC". */
export function signedText(text: string, sign: number): string {
  return sign < 0 ? `−${text}` : text;
}
