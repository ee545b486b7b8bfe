/**
 * Which main effects a product or a square asks for. `strong`: all of its factors; `weak`: one of them at least; `none`: it may stand
 * alone. In cutting trials a product whose factors do nothing by themselves is rare, so that heredity tells apart what few runs can't
 * (Chipman 1996; Wu and Hamada, *Experiments*).
 */
export type Heredity = "strong" | "weak" | "none";

export const heredities: readonly Heredity[] = ["strong", "weak", "none"];

/** Whether a term with these parents may join terms of which `has` tells. */
export function mayJoin(
  parents: readonly number[],
  heredity: Heredity,
  has: (place: number) => boolean,
): boolean {
  if (parents.length === 0 || heredity === "none") return true;
  return heredity === "strong" ? parents.every(has) : parents.some(has);
}

export const heredityWords: Readonly<Record<Heredity, string>> = {
  strong: "a product or square counts only where each of its factors does something by itself",
  weak: "a product or square counts only where one of its factors does something by itself",
  none: "a product or square may count where none of its factors does anything by itself",
};
