import type { ReviewAnswer } from "../../api.ts";
import { announce } from "../announce.tsx";
import { messageOf, tell } from "../ask.ts";
import { addressOf, go, place } from "../place.ts";
import { recipeFieldsIn } from "./recipe-names.ts";

/** On to the finding, with the model, the confidence and the recipe that were asked for here. */
function findingAddress(trial: string, got: ReviewAnswer): string {
  const { query } = place.value;
  const carried = new URLSearchParams();
  if (query.get("model")) carried.set(`model.${got.asked.response}`, got.asked.model);
  const confidence = query.get("confidence");
  if (confidence) carried.set("confidence", confidence);
  for (const [name, value] of recipeFieldsIn(query)) carried.set(name, value);
  const text = carried.toString();
  return addressOf("trials", trial, "finding") + (text === "" ? "" : `?${text}`);
}

interface DoneFormProps {
  readonly trial: string;
  readonly got: ReviewAnswer;
  readonly onFailure: (message: string) => void;
}

/** The note that somebody looked the review over. */
export function DoneForm({ trial, got, onFailure }: DoneFormProps) {
  const done = () => {
    const address = findingAddress(trial, got);
    tell(`/api/trials/${encodeURIComponent(trial)}/review`, { note: "" }).then(
      () => {
        announce("Noted as looked over.");
        go(address);
      },
      (error: unknown) => onFailure(messageOf(error)),
    );
  };
  return (
    <button type="button" class="first no-print" onClick={done}>
      Looked over: on to the finding
    </button>
  );
}
