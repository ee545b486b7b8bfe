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

function More({
  run,
  now,
  note,
}: {
  readonly run: SheetRunView;
  readonly now: RunSheetAnswer;
  readonly note: { value: string };
}) {
  const open = useSignal(false);
  if (!open.value) {
    return (
      <button
        type="button"
        class="plain small no-print"
        onClick={() => (open.value = true)}
        aria-label={`Cut otherwise, or a note: run ${run.run}`}
      >
        Cut otherwise, note …
      </button>
    );
  }
  return (
    <div class="more no-print">
      <TextField
        id={`note-${run.run}`}
        label={`Note that goes with the readings of run ${run.run}`}
        value={note.value}
        onValue={(text) => (note.value = text)}
        hint="Such as: chatter at entry. It is saved with each reading typed after it."
      />
      <AsCutForm run={run} factors={now.factors} onDone={() => (open.value = false)} />
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
  if (now === null) return null;
  return (
    <>
      {startsBlock ? (
        <tr class="block-start">
          <th colSpan={now.factors.length + now.conditions.length + 2} scope="rowgroup">
            Block {run.block}
          </th>
        </tr>
      ) : null}
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
                <SlotField key={slotKey(slot)} slot={slot} run={run} response={response} note={note.value} />
              )),
            )}
          </div>
          <Voided run={run} now={now} />
          {run.asCutReasons.map((reason) => (
            <p key={reason} class="small soft">
              {reason}
            </p>
          ))}
          <More run={run} now={now} note={note} />
        </td>
      </tr>
    </>
  );
}
