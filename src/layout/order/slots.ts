import type { StandardLayout, StandardRun } from "../layout.ts";

/** A place in cutting order: filled already (a centre run, an anchor), or open for a run of its block. */
export interface Slot {
  readonly block: number;
  readonly fixed: StandardRun | undefined;
}

/**
 * The places of a layout in cutting order. Blocks follow one another; centre runs are spread evenly over each block
 * (first, last and between; a single one in the middle); anchors stand first, after every so many runs, and last.
 */
export function slotsOf(
  standard: StandardLayout,
  options: { readonly spreadCentre: boolean },
): readonly Slot[] {
  const blocks = [...new Set(standard.runs.map((run) => run.block))].sort((one, other) => one - other);
  const slots = blocks.flatMap((block) => {
    const inBlock = standard.runs.filter((run) => run.block === block);
    const centre = options.spreadCentre ? inBlock.filter((run) => run.role === "centre") : [];
    return spread(centre, inBlock.length).map((fixed) => ({ block, fixed }));
  });
  return standard.anchor ? withAnchors(slots, standard) : slots;
}

function spread(centre: readonly StandardRun[], length: number): readonly (StandardRun | undefined)[] {
  const places: (StandardRun | undefined)[] = Array.from({ length }, () => undefined);
  centre.forEach((run, index) => {
    const share = centre.length === 1 ? 0.5 : index / (centre.length - 1);
    places[Math.round(share * (length - 1))] = run;
  });
  return places;
}

function withAnchors(slots: readonly Slot[], standard: StandardLayout): readonly Slot[] {
  const { anchor } = standard;
  if (!anchor || slots.length === 0) return slots;
  let next = standard.runs.length;
  const anchorIn = (block: number): Slot => {
    next += 1;
    return { block, fixed: { standard: next, block, role: "anchor", settings: anchor.settings } };
  };
  return slots.flatMap((slot, index) => {
    const before = index % anchor.every === 0 ? [anchorIn(slot.block)] : [];
    const after = index === slots.length - 1 ? [anchorIn(slot.block)] : [];
    return [...before, slot, ...after];
  });
}

/** The runs of a block that still need a place, in standard order. */
export function openRuns(
  standard: StandardLayout,
  block: number,
  options: { readonly spreadCentre: boolean },
): readonly StandardRun[] {
  return standard.runs.filter(
    (run) => run.block === block && !(options.spreadCentre && run.role === "centre"),
  );
}

/** Puts each block's runs, in the order given, into its open slots. */
export function fill(
  slots: readonly Slot[],
  ordered: ReadonlyMap<number, readonly StandardRun[]>,
): readonly StandardRun[] {
  const used = new Map<number, number>();
  return slots.map((slot) => {
    if (slot.fixed) return slot.fixed;
    const place = used.get(slot.block) ?? 0;
    used.set(slot.block, place + 1);
    const run = ordered.get(slot.block)?.[place];
    if (!run) throw new RangeError(`no run left for place ${place + 1} of block ${slot.block}`);
    return run;
  });
}
