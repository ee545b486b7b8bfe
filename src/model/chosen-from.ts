import { formatNumber } from "../units/index.ts";

/** How a model was chosen by looking at the very data it is fitted to. */
export interface ChosenFrom {
  /** Reads after "was chosen as": "the best of 28 models by these runs". */
  readonly how: string;
  /** How many times as wide the intervals would have to be for the choice itself; see `validateChoice`. Left out where that was not tried. */
  readonly widening?: number;
}

/** What a reader must know of the intervals of a model that its own data chose. */
export function choiceNote({ how, widening }: ChosenFrom): string {
  const start = `This model was chosen as ${how}; its intervals know nothing of the choice and are too narrow`;
  if (widening === undefined)
    return `${start}, by how much was not tried out. Prove what matters with further runs.`;
  if (widening < 1.05)
    return `This model was chosen as ${how}. Choosing anew with runs left out predicts those about as well as this model does, so its intervals are hardly too narrow.`;
  return `${start}: choosing anew with runs left out, those are missed by ${formatNumber(widening, { digits: 2 })} times as much as with this model kept. Take the intervals as that many times as wide, and prove what matters with further runs.`;
}
