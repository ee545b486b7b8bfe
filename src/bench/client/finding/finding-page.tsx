import { signal } from "@preact/signals";
import type { FindingAnswer, PublishedView } from "../../api.ts";
import { announce } from "../announce.tsx";
import { ask, messageOf, tell } from "../ask.ts";
import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import { useLoading } from "../loading.ts";
import { addressOf, changeQuery, place } from "../place.ts";
import { RecipeFields } from "../review/recipe-fields.tsx";
import { recipeFieldsIn } from "../review/recipe-names.ts";
import { Refusal, Waiting } from "../sheet/notice.tsx";
import { TrialSheetFrame } from "../trials/trial-sheet.tsx";

const answer = signal<FindingAnswer | null>(null);
const failure = signal("");
const publishing = signal(false);

const addressFor = (trial: string) => `/api/trials/${encodeURIComponent(trial)}/finding`;

async function load(trial: string): Promise<void> {
  try {
    answer.value = await ask<FindingAnswer>(addressFor(trial));
    failure.value = "";
  } catch (error) {
    failure.value = messageOf(error);
  }
}

/** What the page is to be made with: in the address, so that the review can hand it on. */
function choicesIn(query: URLSearchParams): object {
  const models = [...query].filter(([name, model]) => name.startsWith("model.") && model !== "");
  return {
    confidence: query.get("confidence") ?? "",
    recipe: Object.fromEntries(recipeFieldsIn(query)),
    models: Object.fromEntries(models.map(([name, model]) => [name.slice("model.".length), model])),
  };
}

async function publish(trial: string): Promise<void> {
  publishing.value = true;
  try {
    answer.value = await tell<FindingAnswer>(addressFor(trial), choicesIn(place.value.query));
    failure.value = "";
    announce("Published.");
  } catch (error) {
    failure.value = messageOf(error);
  } finally {
    publishing.value = false;
  }
}

function PublishButton({
  trial,
  published,
}: {
  readonly trial: string;
  readonly published: PublishedView | null;
}) {
  return (
    <button
      type="button"
      class="first no-print"
      disabled={publishing.value}
      onClick={() => void publish(trial)}
    >
      {publishing.value ? "Publishing" : published === null ? "Publish" : "Publish again"}
    </button>
  );
}

const models = [
  ["", "As the plan decides"],
  ["power-law", "Power law"],
  ["bent-power-law", "Power law with pairs and curvature"],
  ["main", "Each factor by itself"],
  ["interactions", "Factors and their pairs"],
  ["surface", "Factors, pairs and curvature"],
] as const;

function MadeWith({ responses, recipe }: Pick<FindingAnswer, "responses" | "recipe">) {
  const { query } = place.value;
  const set = (name: string, value: string) => changeQuery({ [name]: value === "" ? null : value });
  return (
    <section class="view no-print" aria-labelledby="made-with">
      <h2 id="made-with">What the page is made with</h2>
      <div class="row">
        {responses.map((name) => (
          <ChoiceField
            key={name}
            id={`model-${name}`}
            label={`Model for ${name}`}
            value={models.find(([model]) => model === query.get(`model.${name}`))?.[0] ?? ""}
            choices={models}
            onValue={(model) => set(`model.${name}`, model)}
          />
        ))}
        <TextField
          id="confidence"
          class="short"
          label="Confidence, %"
          value={query.get("confidence") ?? ""}
          onValue={(text) => set("confidence", text)}
          hint="Of intervals; 95 unless stated"
        />
      </div>
      <h3>What is asked of the recipe</h3>
      <RecipeFields form={recipe} problems={[]} />
    </section>
  );
}

function Published({ trial, published }: { readonly trial: string; readonly published: PublishedView }) {
  const page = `${addressFor(trial)}/page`;
  return (
    <>
      <section class="view" aria-labelledby="files">
        <h2 id="files">What another shop gets</h2>
        {published.outdated ? (
          <p class="amber-box">
            The trial has changed since this page was made. Publish it again before you hand it on.
          </p>
        ) : null}
        <dl class="facts">
          <div>
            <dt>Page</dt>
            <dd>{published.page}</dd>
          </div>
          <div>
            <dt>Data package</dt>
            <dd>{published.package}</dd>
          </div>
          <div>
            <dt>Made</dt>
            <dd>
              {published.date}, with Trycut {published.softwareVersion}
            </dd>
          </div>
          <div>
            <dt>Checksum of its data</dt>
            <dd>{published.checksum.slice(0, 16)}</dd>
          </div>
        </dl>
        <div class="row">
          <a class="button" href={`${page}?as=file`} download>
            Save the page
          </a>
          <a class="button" href={`${addressFor(trial)}/package`} download>
            Save the data package
          </a>
        </div>
      </section>
      <section class="view" aria-labelledby="preview">
        <h2 id="preview">The page as it opens there</h2>
        <iframe
          class="finding"
          title="The published page"
          sandbox="allow-downloads"
          key={published.edition}
          src={`${page}?edition=${published.edition}`}
        />
      </section>
    </>
  );
}

/** What is published of a trial, and publishing it. */
export function FindingPage({ trial }: { readonly trial: string }) {
  useLoading(trial, { reset: () => (answer.value = null), load, isShown: () => answer.peek() !== null });
  const got = answer.value;
  return (
    <TrialSheetFrame
      trial={trial}
      sheet="finding"
      head={got?.head ?? null}
      heading="Finding"
      lead="One page that opens anywhere without a network, with the data inside it, for another shop to read, check and use."
      beside={
        got === null || got.refusal !== "" ? null : <PublishButton trial={trial} published={got.published} />
      }
    >
      {failure.value === "" ? null : <Refusal message={failure.value} />}
      {got === null ? (
        failure.value === "" ? (
          <Waiting what="The finding is on its way." />
        ) : null
      ) : got.refusal !== "" ? (
        <Refusal message={got.refusal}>
          <p>
            <a href={addressOf("trials", trial, "run-sheet")}>Go to the run sheet</a>
          </p>
        </Refusal>
      ) : (
        <>
          {got.problem === "" ? null : (
            <div class="amber-box">
              <p class="message">
                <strong>The page that lies there can't be read.</strong> {got.problem}
              </p>
            </div>
          )}
          {got.published === null ? (
            <p class="measure">
              Nothing is published yet. The page will hold the question, the plan, every reading, the results
              with their intervals, the remarks and the cautions; the data package holds the same data as CSV
              files with a description.
            </p>
          ) : null}
          <MadeWith responses={got.responses} recipe={got.recipe} />
          {got.published === null ? null : <Published trial={trial} published={got.published} />}
        </>
      )}
    </TrialSheetFrame>
  );
}
