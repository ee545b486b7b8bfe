import type { RecipeFound, RecipeMap, RecipeNextAnswer } from "../../recipe-api.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { changeQuery } from "../place.ts";
import { Entries, Made } from "../sheet/made.tsx";
import { AddRuns } from "./add-runs.tsx";
import { Footnotes, Method } from "./told.tsx";

function Facts({ facts, name }: { readonly facts: RecipeFound["settings"]; readonly name: string }) {
  return facts.length === 0 ? null : (
    <dl class={`facts ${name}`}>
      {facts.map(([what, text]) => (
        <div key={what}>
          <dt>{what}</dt>
          <dd>{text}</dd>
        </div>
      ))}
    </dl>
  );
}

/** What to set, what comes of it, and how sure each limit is. */
function Settings({ recipe }: { readonly recipe: RecipeFound }) {
  return (
    <div class="answer-block">
      <p class="tag">{recipe.found ? "Set" : "No recipe; what comes nearest"}</p>
      <Facts name="set" facts={recipe.settings} />
      <Facts name="" facts={recipe.figures} />
      {recipe.sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
    </div>
  );
}

function MapFields({ map }: { readonly map: RecipeMap }) {
  const { along, up, of, choices, responses } = map;
  const axis = (name: "along" | "up", label: string, value: string, other: string) => (
    <ChoiceField
      id={name}
      label={label}
      value={value}
      choices={choices.filter((choice) => choice !== other).map((choice) => [choice, choice] as const)}
      onValue={(chosen) => changeQuery({ along, up, [name]: chosen })}
    />
  );
  if (choices.length < 3 && responses.length < 2) return null;
  return (
    <div class="row no-print">
      {choices.length < 3 ? null : (
        <>
          {axis("along", "Along the map", along, up)}
          {axis("up", "Up the map", up, along)}
        </>
      )}
      {responses.length < 2 ? null : (
        <ChoiceField
          id="of"
          label="Contours of"
          value={of}
          choices={responses.map((name) => [name, name] as const)}
          onValue={(chosen) => changeQuery({ of: chosen })}
        />
      )}
    </div>
  );
}

/** The recipe and the map beside it. */
export function RecipeResult({ recipe, map }: { readonly recipe: RecipeFound; readonly map: RecipeMap }) {
  return (
    <>
      <MapFields map={map} />
      <Entries class="figures decision">
        <div>
          <Settings recipe={recipe} />
          <Footnotes texts={recipe.notes} />
        </div>
        {map.figure === "" ? <p class="soft">{map.refusal}</p> : <Made html={map.figure} />}
      </Entries>
      <details>
        <summary>The limits as a table</summary>
        <Entries>
          <Made html={recipe.table} />
        </Entries>
      </details>
      <Method texts={recipe.methods} />
    </>
  );
}

/** The rules by which proof runs pass or fail, decided beforehand. */
export function ProofPart({ proof }: { readonly proof: RecipeFound["proof"] }) {
  if (proof.length === 0) return null;
  return (
    <>
      <h3>Proof runs, by a rule decided beforehand</h3>
      {proof.map(({ response, runs, rule, chances, why, none }) => (
        <div key={response} class="sentences measure">
          <p>
            <strong>
              {response}
              {runs === "" ? "" : `, ${runs}`}:
            </strong>{" "}
            {none === "" ? rule : none}
          </p>
          {none === "" ? <p>{chances}</p> : null}
          {why === "" ? null : <p class="soft small">{why}</p>}
        </div>
      ))}
      <Method texts={[...new Set(proof.map(({ method }) => method))]} />
    </>
  );
}

interface NextPartProps {
  readonly trial: string;
  readonly next: RecipeNextAnswer;
  readonly onAdded: (count: number) => void;
}

/** What to cut next, what stopping costs, and how much room the limits leave. */
export function NextPart({ trial, next, onAdded }: NextPartProps) {
  if (next.refusal !== "") return <p class="refusal message">{next.refusal}</p>;
  if (next.sentences.length === 0) return null;
  return (
    <>
      <h3>Cut more, or stop?</h3>
      <div class="sentences measure">
        {next.sentences.map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
      </div>
      <details>
        <summary>The passes one by one</summary>
        <Entries>
          <Made html={next.table} />
          {next.add === null ? null : <AddRuns id="next" trial={trial} runs={next.add} onAdded={onAdded} />}
        </Entries>
      </details>
      <h3>How much room the limits leave</h3>
      <p class="measure">{next.room}</p>
      <details>
        <summary>The room as a table</summary>
        <Entries>
          <Made html={next.roomTable} />
        </Entries>
      </details>
      <Method texts={next.methods} />
    </>
  );
}
