import type { ResponseDraft } from "../../draft.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import { change, changeResponse, draft, emptyResponse, refusals, without } from "./draft-state.ts";

function OneResponse({ response, index, only }: { response: ResponseDraft; index: number; only: boolean }) {
  const id = `responses.${index}`;
  const set = (part: Partial<ResponseDraft>) => changeResponse(index, { ...response, ...part });
  const name = response.name === "" ? `response ${index + 1}` : response.name;
  return (
    <fieldset class="item">
      <legend>Response {index + 1}</legend>
      <div class="row">
        <TextField
          id={`${id}.name`}
          label="Name"
          value={response.name}
          onValue={(value) => set({ name: value })}
          refusal={refusals.value.get(`${id}.name`)}
          hint="Such as Ra"
        />
        <TextField
          id={`${id}.unit`}
          class="short"
          label="Unit"
          list="units"
          value={response.unit}
          onValue={(unit) => set({ unit })}
          refusal={refusals.value.get(`${id}.unit`)}
          hint="µm, µin, N …"
        />
        <ChoiceField
          id={`${id}.aim`}
          label="Wanted"
          value={response.aim}
          choices={[
            ["smaller", "As small as needed"],
            ["larger", "As large as needed"],
            ["target", "On a target"],
          ]}
          onValue={(aim) => set({ aim })}
        />
        <TextField
          id={`${id}.limit`}
          class="short"
          label={response.aim === "target" ? "Target" : "Limit"}
          numeric="numeric"
          value={response.limit}
          onValue={(limit) => set({ limit })}
          refusal={refusals.value.get(`${id}.limit`)}
          hint="May be left empty"
        />
        {only ? null : (
          <button
            type="button"
            class="plain"
            onClick={() => change({ responses: without(draft.value?.responses ?? [], index) })}
          >
            Remove {name}
          </button>
        )}
      </div>
    </fieldset>
  );
}

/** What is read off each pass. */
export function ResponsesPart() {
  const responses = draft.value?.responses ?? [];
  return (
    <section class="view" aria-labelledby="part-responses">
      <h2 id="part-responses">What will be read after each pass?</h2>
      {responses.map((response, index) => (
        <OneResponse key={index} response={response} index={index} only={responses.length === 1} />
      ))}
      <div>
        <button type="button" onClick={() => change({ responses: [...responses, emptyResponse] })}>
          Add a response
        </button>
      </div>
    </section>
  );
}
