const names = ["assurance", "push", "along", "up", "of"];
const prefixes = ["limit.", "for.", "share.", "parts.", "side.", "hold."];

/** Whether a field of the address asks something of the recipe. */
export function isRecipeField(name: string): boolean {
  return names.includes(name) || prefixes.some((prefix) => name.startsWith(prefix));
}

/** What is asked of the recipe, from the address, as it was typed. */
export function recipeFieldsIn(query: URLSearchParams): readonly (readonly [name: string, value: string])[] {
  return [...query].filter(([name, value]) => value !== "" && isRecipeField(name));
}
