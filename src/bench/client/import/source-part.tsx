import { messageOf } from "../ask.ts";
import { TextField } from "../fields/text-field.tsx";
import { base64Of, failure, setSource, table } from "./import-state.ts";

function chooseFile(event: Event): void {
  const file = event.currentTarget instanceof HTMLInputElement ? event.currentTarget.files?.[0] : undefined;
  if (file === undefined) return;
  base64Of(file).then(
    (base64) => setSource({ base64 }, file.name),
    (error: unknown) => (failure.value = messageOf(error)),
  );
}

/** A file, or a table that is pasted. */
export function SourcePart({ hint }: { readonly hint: string }) {
  const { source, file } = table.value;
  return (
    <section class="view" aria-labelledby="part-source">
      <h2 id="part-source">The table</h2>
      <div class="field">
        <label for="file">A CSV file</label>
        <input id="file" type="file" accept=".csv,.txt,.tsv,text/csv,text/plain" onChange={chooseFile} />
      </div>
      <TextField
        id="pasted"
        label="Or a table pasted here"
        lines={8}
        value={"text" in source ? source.text : ""}
        onValue={(text) => setSource({ text }, "")}
        hint={file === "" ? hint : `Now looking at ${file}. What is pasted here takes its place.`}
      />
    </section>
  );
}
