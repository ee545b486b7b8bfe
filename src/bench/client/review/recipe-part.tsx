import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { RecipeAnswer, RecipeNextAnswer } from "../../recipe-api.ts";
import { announce } from "../announce.tsx";
import { ask, messageOf } from "../ask.ts";
import { place } from "../place.ts";
import { Waiting } from "../sheet/notice.tsx";
import { isRecipeField } from "./recipe-names.ts";
import { RecipeFields } from "./recipe-fields.tsx";
import { NextPart, ProofPart, RecipeResult } from "./recipe-result.tsx";

const answer = signal<RecipeAnswer | null>(null);
const next = signal<RecipeNextAnswer | null>(null);
const failure = signal("");
const busy = signal(false);

const fittedBy = ["response", "model"];
const drawnBy = ["along", "up", "of"];

/** What is asked, from the address; `leaving` names what does not matter. */
function questionIn(query: URLSearchParams, leaving: readonly string[] = []): string {
  const asked = [...query].filter(
    ([name, value]) =>
      value !== "" && !leaving.includes(name) && (fittedBy.includes(name) || isRecipeField(name)),
  );
  const text = new URLSearchParams(asked.map(([name, value]) => [name, value])).toString();
  return text === "" ? "" : `?${text}`;
}

async function load(trial: string, query: string, stopped: AbortSignal): Promise<void> {
  busy.value = true;
  try {
    const got = await ask<RecipeAnswer>(`/api/trials/${encodeURIComponent(trial)}/recipe${query}`, {
      signal: stopped,
    });
    if (stopped.aborted) return;
    answer.value = got;
    failure.value = "";
    announce(spoken(got));
  } catch (error) {
    if (stopped.aborted) return;
    failure.value = messageOf(error);
  }
  busy.value = false;
}

async function loadNext(trial: string, query: string, stopped: AbortSignal): Promise<void> {
  try {
    const got = await ask<RecipeNextAnswer>(`/api/trials/${encodeURIComponent(trial)}/recipe/next${query}`, {
      signal: stopped,
    });
    if (!stopped.aborted) next.value = got;
  } catch (error) {
    if (!stopped.aborted) failure.value = messageOf(error);
  }
}

function spoken({ problems, refusal, recipe }: RecipeAnswer): string {
  if (problems.length > 0) return problems.map(({ message }) => message).join(" ");
  if (recipe === null) return refusal;
  const place = recipe.settings.map(([name, text]) => `${name} ${text}`).join(", ");
  return recipe.found ? `Recipe: ${place}.` : `No recipe. Nearest: ${place}.`;
}

/** While something is typed the bench is not asked at every letter. */
const pauseMs = 300;

interface RecipePartProps {
  readonly trial: string;
  /** Changes with the trial's data: what was found is then looked for again. */
  readonly stamp: string;
  readonly onAdded: (count: number) => void;
}

/** The quickest setting that keeps the limits that are typed, how sure, where the border lies, and what to cut next. */
export function RecipePart({ trial, stamp, onAdded }: RecipePartProps) {
  const { query } = place.value;
  const question = questionIn(query);
  const decision = questionIn(query, drawnBy);
  useEffect(
    () => () => {
      answer.value = null;
      next.value = null;
      failure.value = "";
    },
    [trial],
  );
  useEffect(() => {
    const stop = new AbortController();
    const timer = setTimeout(
      () => void load(trial, question, stop.signal),
      answer.peek() === null ? 0 : pauseMs,
    );
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [trial, stamp, question]);
  useEffect(() => {
    const stop = new AbortController();
    next.value = null;
    // After the recipe, which is waited for.
    const timer = setTimeout(() => void loadNext(trial, decision, stop.signal), 2 * pauseMs);
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [trial, stamp, decision]);
  const got = answer.value;
  return (
    <section class="view" aria-labelledby="recipe" aria-busy={busy.value}>
      <h2 id="recipe">Which settings keep the limits?</h2>
      {failure.value === "" ? null : <p class="refusal message">{failure.value}</p>}
      {got === null ? (
        failure.value === "" ? (
          <Waiting what="The recipe is on its way." />
        ) : null
      ) : (
        <>
          <RecipeFields form={got.form} problems={got.problems} />
          {got.problems.length === 0 ? null : (
            <p class="refusal">
              What is typed above can't be read in {got.problems.length === 1 ? "one place" : "some places"}:
              mend it there, and the recipe is looked for again.
            </p>
          )}
          {got.refusal === "" ? null : <p class="refusal message">{got.refusal}</p>}
          {got.recipe === null || got.map === null ? null : (
            <>
              <RecipeResult recipe={got.recipe} map={got.map} />
              <ProofPart proof={got.recipe.proof} />
              {next.value === null ? (
                <Waiting what="What to cut next is on its way." />
              ) : (
                <NextPart trial={trial} next={next.value} onAdded={onAdded} />
              )}
            </>
          )}
        </>
      )}
    </section>
  );
}
