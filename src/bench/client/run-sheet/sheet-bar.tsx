import { TextField } from "../fields/text-field.tsx";
import { put } from "./entering.ts";
import { saveAll } from "./save.ts";
import { firstOpen, homeless, places, setPlaces, sheet, tally } from "./sheet-state.ts";

function count(text: string): number {
  const given = Number(text);
  return Number.isInteger(given) && given >= 1 && given <= 25 ? given : 1;
}

/** How far the sheet is, always in sight. */
export function SheetBar() {
  const { slots, saved, asked, unsaved } = tally.value;
  const next = firstOpen.value;
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
      {next === null ? null : (
        <button type="button" onClick={() => document.getElementById(next.id)?.focus()}>
          Go to run {next.run}
        </button>
      )}
      <progress max={Math.max(slots, 1)} value={saved} aria-label="Readings saved" />
    </div>
  );
}

/** Readings that were typed for a place that is taken now: shown until somebody decides, never dropped. */
export function Homeless() {
  const trial = sheet.value?.head.name ?? "";
  if (homeless.value.length === 0) return null;
  return (
    <div class="caution no-print">
      <strong>Typed before, and its place is taken now</strong>
      <ul>
        {homeless.value.map(({ key, slot, typed }) => (
          <li key={key}>
            Run {slot.run}, {slot.response}: {typed}{" "}
            <button type="button" class="plain" onClick={() => put(trial, key, null)}>
              Forget {typed}
            </button>
          </li>
        ))}
      </ul>
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
