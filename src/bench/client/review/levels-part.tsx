import type { LevelsView, ScatterView } from "../../api.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import { changeQuery, place } from "../place.ts";
import { Footnotes, Method, Sentences } from "./told.tsx";

function set(name: string, value: string): void {
  changeQuery({ [name]: value === "" ? null : value });
}

interface LevelsPartProps {
  readonly response: string;
  readonly view: LevelsView;
}

/** Which levels of a category differ, by how much, and whether they are alike for all that matters. */
export function LevelsPart({ response, view }: LevelsPartProps) {
  const { query } = place.value;
  const { alike } = view;
  return (
    <section class="view" aria-labelledby="levels">
      <h2 id="levels">
        {response} by {view.factor}
      </h2>
      <div class="row no-print">
        {view.factors.length < 2 ? null : (
          <ChoiceField
            id="compare"
            label="Levels of"
            value={view.factor}
            choices={view.factors.map((name) => [name, name] as const)}
            onValue={(value) => changeQuery({ compare: value, control: null })}
          />
        )}
        {view.levels.length < 3 ? null : (
          <ChoiceField
            id="control"
            label="Compare"
            value={view.control}
            choices={[
              ["", "Every pair"],
              ...view.levels.map((level) => [level, `Each with ${level}`] as const),
            ]}
            onValue={(value) => set("control", value)}
          />
        )}
        <TextField
          id="margin"
          class="short"
          label="Counts as no difference"
          value={query.get("margin") ?? ""}
          onValue={(value) => set("margin", value)}
          hint={view.marginHint}
        />
      </div>
      {view.refusal === "" ? null : <p class="refusal message">{view.refusal}</p>}
      <Sentences sentences={view.sentences} figures={view.figures} />
      <Footnotes texts={[view.overall, ...view.notes]} />
      <Method texts={[view.method]} />
      {alike === null ? null : (
        <>
          <h3>Alike for all that matters?</h3>
          {alike.refusal === "" ? null : <p class="refusal message">{alike.refusal}</p>}
          <Sentences sentences={alike.sentences} figures={alike.figures} />
          <Method texts={[alike.method]} />
        </>
      )}
    </section>
  );
}

interface ScatterPartProps {
  readonly response: string;
  readonly view: ScatterView;
}

/** Which settings are steady: what each factor does to the scatter of fresh runs. */
export function ScatterPart({ response, view }: ScatterPartProps) {
  return (
    <section class="view" aria-labelledby="scatter">
      <h2 id="scatter">What moves the scatter of {response}</h2>
      <Sentences sentences={view.sentences} figures={view.figures} />
      <Footnotes texts={view.notes} />
      <Method texts={[view.method]} />
    </section>
  );
}
