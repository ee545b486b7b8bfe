import { ChoiceField } from "../fields/choice-field.tsx";
import { TextField } from "../fields/text-field.tsx";
import { change, draft, refusals } from "./draft-state.ts";
import { folderNameFrom } from "./folder-name.ts";

/** What is asked, under which name, and of what kind the data will be. */
export function QuestionPart() {
  const form = draft.value;
  if (form === null) return null;
  const nameFollows = form.name === folderNameFrom(form.title);
  const setTitle = (title: string) =>
    change(nameFollows ? { title, name: folderNameFrom(title) } : { title });
  return (
    <section class="view" aria-labelledby="part-question">
      <h2 id="part-question">What do you want to know?</h2>
      <div class="row">
        <TextField
          id="title"
          class="grow"
          label="Title"
          value={form.title}
          onValue={setTitle}
          refusal={refusals.value.get("title")}
          hint="Such as: Pump cover, sealing face, feed sweep"
        />
        <TextField
          id="name"
          class="grow"
          label="Name of the folder"
          value={form.name}
          onValue={(name) => change({ name })}
          refusal={refusals.value.get("name")}
          hint="Its files lie in experiments/ under this name"
        />
      </div>
      <TextField
        id="question"
        label="Question"
        lines={2}
        value={form.question}
        onValue={(question) => change({ question })}
        refusal={refusals.value.get("question")}
        hint="What should the trial decide, and what rides on it?"
      />
      <div class="row">
        <ChoiceField
          id="display"
          label="Show quantities in"
          value={form.display}
          choices={[
            ["metric", "Metric units"],
            ["inch", "Inch units"],
          ]}
          onValue={(display) => change({ display })}
        />
        <ChoiceField
          id="data-kind"
          label="The readings will be"
          value={form.dataKind}
          choices={[
            ["measured", "Measured here"],
            ["published", "Taken from a publication"],
            ["invented", "Invented, for practice"],
          ]}
          onValue={(dataKind) => change({ dataKind })}
        />
        <TextField
          id="source"
          class="grow"
          label="Machine, gauge or source"
          value={form.source}
          onValue={(source) => change({ source })}
          hint="As another shop would need to know it"
        />
      </div>
    </section>
  );
}
