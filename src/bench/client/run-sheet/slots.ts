import type { ReadingView, RunSheetAnswer, SheetRunView } from "../../api.ts";

/** A place for one reading: which run, what is read, where on the surface, and the how-manieth there. */
export interface Slot {
  readonly run: number;
  readonly response: string;
  readonly spot: number;
  readonly repeat: number;
}

/** How many places each run has on the sheet; more show where more were read. */
export interface Places {
  readonly spots: number;
  readonly repeats: number;
}

export function slotKey({ run, response, spot, repeat }: Slot): string {
  return JSON.stringify([run, response, spot, repeat]);
}

/** The id of a slot's field on the page. */
export function slotId(slot: Slot, responses: readonly { readonly name: string }[]): string {
  const place = responses.findIndex(({ name }) => name === slot.response);
  return `reading-${slot.run}-${place}-${slot.spot}-${slot.repeat}`;
}

/** The slots of one run and one response, spot by spot. */
export function slotsOf(run: SheetRunView, response: string, { spots, repeats }: Places): readonly Slot[] {
  const read = run.readings.filter((reading) => reading.response === response);
  const lastSpot = Math.max(spots, ...read.map(({ spot }) => spot));
  const slots: Slot[] = [];
  for (let spot = 1; spot <= lastSpot; spot += 1) {
    const here = read.filter((reading) => reading.spot === spot).map(({ repeat }) => repeat);
    const lastRepeat = Math.max(spot <= spots ? repeats : 0, ...here);
    for (let repeat = 1; repeat <= lastRepeat; repeat += 1)
      slots.push({ run: run.run, response, spot, repeat });
  }
  return slots;
}

/** Every slot of the sheet, in the order in which a reader goes through it. */
export function allSlots(sheet: Pick<RunSheetAnswer, "runs" | "responses">, places: Places): readonly Slot[] {
  return sheet.runs.flatMap((run) => sheet.responses.flatMap(({ name }) => slotsOf(run, name, places)));
}

function isOf(slot: Slot, reading: ReadingView): boolean {
  return (
    reading.run === slot.run &&
    reading.response === slot.response &&
    reading.spot === slot.spot &&
    reading.repeat === slot.repeat
  );
}

/** The reading in use of a slot, if there is one. */
export function readingIn(run: SheetRunView, slot: Slot): ReadingView | undefined {
  return run.readings.find((reading) => isOf(slot, reading) && reading.void === "");
}

/** The readings of a slot that are kept but not used. */
export function voidedIn(run: SheetRunView, slot: Slot): readonly ReadingView[] {
  return run.readings.filter((reading) => isOf(slot, reading) && reading.void !== "");
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
export function slotWords({ spot, repeat }: Slot, { spots, repeats }: Places): string {
  const parts = [
    spots > 1 || spot > 1 ? `spot ${spot}` : "",
    repeats > 1 || repeat > 1 ? `reading ${repeat}` : "",
  ];
  return parts.filter((part) => part !== "").join(", ");
}
