/** The eleven linear sets of NIST's Statistical Reference Datasets (www.itl.nist.gov/div898/strd). */
export const linearSets = [
  "Norris",
  "Pontius",
  "NoInt1",
  "NoInt2",
  "Filip",
  "Longley",
  "Wampler1",
  "Wampler2",
  "Wampler3",
  "Wampler4",
  "Wampler5",
] as const;
