import { useSignal } from "@preact/signals";
import type { RunSheetAnswer, SheetRunView } from "../../api.ts";
import { TextField } from "../fields/text-field.tsx";
import { AsCutForm } from "./as-cut-form.tsx";
import { places, sheet } from "./sheet-state.ts";
import { SlotField } from "./slot-field.tsx";
import { slotKey, slotsOf, voidedOf } from "./slots.ts";

interface RunRowProps {
  readonly run: SheetRunView;
  readonly isNext: boolean;
  readonly startsBlock: boolean;
}

function SettingCell({ planned, asCut }: { readonly planned: string; readonly asCut: string }) {
  if (asCut === "") return <span class="setting">{planned}</span>;
  return (
    <span class="setting">
      <s>{planned}</s> <strong>{asCut}</strong>
      <span class="heard-only"> as cut</span>
    </span>
  );
}

/** Whether one heading names every field of the sheet. */
export function hasOneColumn(now: RunSheetAnswer): boolean {
  const { spots, repeats } = places.value;
  return now.responses.length === 1 && spots === 1 && repeats === 1 && now.runs.every((run) => isPlain(run));
}

function isPlain(run: SheetRunView): boolean {
  const inUse = run.readings.filter((reading) => reading.void === "");
  return inUse.length < 2 && inUse.every(({ spot }) => spot === 1);
}

interface MoreProps {
  readonly run: SheetRunView;
  readonly now: RunSheetAnswer;
  readonly note: { value: string };
  readonly onDone: () => void;
}

function More({ run, now, note, onDone }: MoreProps) {
  return (
    <div class="more no-print">
      <TextField
        id={`note-${run.run}`}
        label={`Note that goes with the readings of run ${run.run}`}
        value={note.value}
        onValue={(text) => (note.value = text)}
        hint="Such as: chatter at entry. It is saved with each reading typed after it."
      />
      <h3>Cut otherwise than planned?</h3>
      <AsCutForm run={run} factors={now.factors} onDone={onDone} />
    </div>
  );
}

function Voided({ run, now }: { readonly run: SheetRunView; readonly now: RunSheetAnswer }) {
  const voided = now.responses.flatMap(({ name }) => voidedOf(run, name));
  return (
    <>
      {voided.map((reading) => (
        <p key={`${reading.response} ${reading.spot} ${reading.repeat}`} class="voided small">
          {reading.response} <s>{reading.text}</s> not used: {reading.void}
        </p>
      ))}
    </>
  );
}

/** One run of the sheet: how to cut it, and its readings. */
export function RunRow({ run, isNext, startsBlock }: RunRowProps) {
  const now = sheet.value;
  const note = useSignal("");
  const open = useSignal(false);
  if (now === null) return null;
  const captioned = !hasOneColumn(now);
  const span = now.factors.length + now.conditions.length + 3;
  return (
    <>
      {startsBlock ? (
        <tr class="block-start">
          <th colSpan={span} scope="rowgroup">
            Block {run.block}
          </th>
        </tr>
      ) : null}
      {run.setUp === "" ? null : (
        <tr class="block-start">
          <th colSpan={span} scope="rowgroup">
            {run.setUp}
          </th>
        </tr>
      )}
      {run.endsBefore.map((text) => (
        <tr key={text} class="budget-end">
          <td colSpan={span}>{text}</td>
        </tr>
      ))}
      <tr class={isNext ? "run-row next" : "run-row"} aria-current={isNext ? "step" : undefined}>
        <th scope="row" class="run-number">
          <span class="heard-only">Run </span>
          {run.run}
          {isNext ? <span class="next-word">next</span> : null}
          {run.role === "anchor" || run.role === "added" || run.role === "centre" ? (
            <span class="role">{run.role}</span>
          ) : null}
        </th>
        {now.factors.map((factor, index) => (
          <td key={factor.name} data-head={factor.name}>
            <SettingCell planned={run.settings[index] ?? ""} asCut={run.asCut[index] ?? ""} />
          </td>
        ))}
        {now.conditions.map((name, index) => (
          <td key={name} class="soft" data-head={name}>
            {run.conditions[index]}
          </td>
        ))}
        <td class="readings">
          <div class="slots">
            {now.responses.flatMap((response) =>
              slotsOf(run, response.name, places.value).map((slot) => (
                <SlotField
                  key={slotKey(slot)}
                  slot={slot}
                  run={run}
                  response={response}
                  note={note.value}
                  captioned={captioned}
                />
              )),
            )}
          </div>
          <Voided run={run} now={now} />
          {run.asCutReasons.map((reason) => (
            <p key={reason} class="small soft">
              {reason}
            </p>
          ))}
        </td>
        <td class="only-print hand-note" />
        <td class="row-end no-print">
          <button
            type="button"
            class="plain small"
            aria-expanded={open.value}
            aria-label={`Cut otherwise, note … run ${run.run}`}
            onClick={() => (open.value = !open.value)}
          >
            Cut otherwise, note …
          </button>
        </td>
      </tr>
      {open.value ? (
        <tr class="no-print">
          <td colSpan={span}>
            <More run={run} now={now} note={note} onDone={() => (open.value = false)} />
          </td>
        </tr>
      ) : null}
    </>
  );
}
