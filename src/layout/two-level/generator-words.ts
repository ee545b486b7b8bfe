import { dependences, placesIn } from "./aliases.ts";
import { effectText, signedText, type EffectNames } from "./effect-text.ts";
import type { RegularDesign } from "./regular-design.ts";

/** "D = ABC" for each factor that is a product of earlier ones. */
export function generatorTexts(design: RegularDesign, names: EffectNames): readonly string[] {
  return dependences(design.masks).map((word) => {
    const places = placesIn(word);
    const made = places[places.length - 1] ?? 0;
    const sign = places.reduce((product, place) => product * (design.signs[place] ?? 1), 1);
    return `${names.names[made]} = ${signedText(effectText(names, places.slice(0, -1)), sign)}`;
  });
}
