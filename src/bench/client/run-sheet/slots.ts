import type { ReadingView, RunSheetAnswer, SheetRunView } from "../../api.ts";

/** A place for one reading: which run, what is read, where on the surface, and the how-manieth in use there. */
export interface Slot {
  readonly run: number;
  readonly response: string;
  readonly spot: number;
  /** From 1. The number of a reading differs from it where one before it is out of use. */
  readonly place: number;
}

/** How many places each run has on the sheet; more show where more were read. */
export interface Places {
  readonly spots: number;
  readonly repeats: number;
}

export function slotKey({ run, response, spot, place }: Slot): string {
  return JSON.stringify([run, response, spot, place]);
}

/** The slot of a key; null where it isn't one. */
export function slotOfKey(key: string): Slot | null {
  try {
    const parts: unknown = JSON.parse(key);
    if (!Array.isArray(parts)) return null;
    const [run, response, spot, place] = parts as readonly unknown[];
    if (typeof run !== "number" || typeof response !== "string") return null;
    return typeof spot === "number" && typeof place === "number" ? { run, response, spot, place } : null;
  } catch {
    return null;
  }
}

/** The id of a slot's field on the page. */
export function slotId(slot: Slot, responses: readonly { readonly name: string }[]): string {
  const response = responses.findIndex(({ name }) => name === slot.response);
  return `reading-${slot.run}-${response}-${slot.spot}-${slot.place}`;
}

function inUseAt(run: SheetRunView, response: string, spot: number): readonly ReadingView[] {
  return run.readings
    .filter((reading) => reading.response === response && reading.spot === spot && reading.void === "")
    .sort((a, b) => a.repeat - b.repeat);
}

/** The slots of one run and one response, spot by spot. */
export function slotsOf(run: SheetRunView, response: string, { spots, repeats }: Places): readonly Slot[] {
  const read = run.readings.filter((reading) => reading.response === response);
  const lastSpot = Math.max(spots, ...read.map(({ spot }) => spot));
  return Array.from({ length: lastSpot }, (_, index) => index + 1).flatMap((spot) => {
    const wanted = spot <= spots ? repeats : 0;
    const count = Math.max(wanted, inUseAt(run, response, spot).length);
    return Array.from({ length: count }, (_, index) => ({ run: run.run, response, spot, place: index + 1 }));
  });
}

/** Every slot of the sheet, in the order in which a reader goes through it. */
export function allSlots(sheet: Pick<RunSheetAnswer, "runs" | "responses">, places: Places): readonly Slot[] {
  return sheet.runs.flatMap((run) => sheet.responses.flatMap(({ name }) => slotsOf(run, name, places)));
}

/** The reading in use of a slot, if there is one. */
export function readingIn(run: SheetRunView, slot: Slot): ReadingView | undefined {
  return inUseAt(run, slot.response, slot.spot)[slot.place - 1];
}

/** The readings of a response that are kept but not used. */
export function voidedOf(run: SheetRunView, response: string): readonly ReadingView[] {
  return run.readings.filter((reading) => reading.response === response && reading.void !== "");
}

/** The number for the next reading at a slot's spot: one more than any that is there, in use or not. */
export function nextRepeat(run: SheetRunView, slot: Slot): number {
  const there = run.readings.filter(
    (reading) => reading.response === slot.response && reading.spot === slot.spot,
  );
  return Math.max(0, ...there.map(({ repeat }) => repeat)) + 1;
}

/** The open slot after (or before) another; null at the end of the sheet. Filled ones are passed over. */
export function nextOpenSlot(
  sheet: Pick<RunSheetAnswer, "runs" | "responses">,
  places: Places,
  from: Slot,
  direction: "on" | "back",
): Slot | null {
  const runs = new Map(sheet.runs.map((run) => [run.run, run]));
  const slots = allSlots(sheet, places);
  const start = slots.findIndex((slot) => slotKey(slot) === slotKey(from));
  const others = direction === "on" ? slots.slice(start + 1) : slots.slice(0, Math.max(start, 0)).reverse();
  const isOpen = (slot: Slot) => {
    const run = runs.get(slot.run);
    return run !== undefined && readingIn(run, slot) === undefined;
  };
  return others.find(isOpen) ?? null;
}

/** How a slot is called where it must be told from others. */
export function slotWords({ spot, place }: Slot, { spots, repeats }: Places): string {
  const parts = [
    spots > 1 || spot > 1 ? `spot ${spot}` : "",
    repeats > 1 || place > 1 ? `reading ${place}` : "",
  ];
  return parts.filter((part) => part !== "").join(", ");
}
