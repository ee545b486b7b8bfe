import { TextField } from "../fields/text-field.tsx";
import { places, saveAll, setPlaces, tally } from "./sheet-state.ts";

function count(text: string): number {
  const given = Number(text);
  return Number.isInteger(given) && given >= 1 && given <= 25 ? given : 1;
}

/** How far the sheet is, always in sight. */
export function SheetBar() {
  const { slots, saved, asked, unsaved } = tally.value;
  return (
    <div class="sheet-bar no-print">
      <p>
        <strong>
          {saved} of {slots}
        </strong>{" "}
        readings saved
        {asked > 0 ? <span class="refusal"> · {asked} asked about</span> : null}
        {unsaved > 0 ? <span class="refusal"> · {unsaved} not saved</span> : null}
      </p>
      {unsaved > 0 ? (
        <button type="button" onClick={() => void saveAll()}>
          Save what waits
        </button>
      ) : null}
      <progress max={Math.max(slots, 1)} value={saved} aria-label="Readings saved" />
    </div>
  );
}

/** How many readings each run has room for. */
export function PlacesForm() {
  const { spots, repeats } = places.value;
  return (
    <div class="row no-print">
      <TextField
        id="spots"
        class="short"
        label="Spots on each surface"
        numeric="numeric"
        value={String(spots)}
        onValue={(text) => setPlaces({ spots: count(text) })}
        hint="Other places on the same surface"
      />
      <TextField
        id="repeats"
        class="short"
        label="Readings at each spot"
        numeric="numeric"
        value={String(repeats)}
        onValue={(text) => setPlaces({ repeats: count(text) })}
        hint="The gauge set down again"
      />
      <p class="soft small measure">
        Spots and repeated readings tell the gauge and the surface apart. They do not replace a fresh pass:
        only that tells how much one pass differs from the next.
      </p>
    </div>
  );
}
