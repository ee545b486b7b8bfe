import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { NotebooksAnswer } from "../../api.ts";
import { ask, messageOf } from "../ask.ts";
import { addressOf } from "../place.ts";
import { Refusal, Waiting } from "../sheet/notice.tsx";
import { Sheet } from "../sheet/sheet.tsx";

const names = signal<readonly string[] | null>(null);
const failure = signal("");

function load(): void {
  ask<NotebooksAnswer>("/api/notebooks").then(
    ({ notebooks }) => {
      names.value = notebooks;
      failure.value = "";
    },
    (error: unknown) => (failure.value = messageOf(error)),
  );
}

/** All notebooks of the project. */
export function NotebooksPage() {
  useEffect(load, []);
  const list = names.value;
  const cells = [
    { label: "Sheet", value: "List of notebooks", size: "wide" as const },
    { label: "Notebooks", value: list === null ? "" : String(list.length) },
    { label: "Folder", value: "notebooks/", size: "wide" as const },
  ];
  return (
    <Sheet
      heading="Notebooks"
      lead="Each notebook is a TypeScript file that runs from top to bottom. Open one, edit it in your own editor, and the page is redrawn when you save."
      cells={cells}
    >
      {failure.value === "" ? null : <Refusal message={failure.value} />}
      {list === null ? (
        failure.value === "" ? (
          <Waiting what="The notebooks are on their way." />
        ) : null
      ) : list.length === 0 ? (
        <p class="measure">There is no notebook in notebooks/ yet. Write one there, and it shows here.</p>
      ) : (
        <table class="trials">
          <thead>
            <tr>
              <th scope="col" class="number">
                Item
              </th>
              <th scope="col">Notebook</th>
              <th scope="col">File</th>
            </tr>
          </thead>
          <tbody>
            {list.map((name, index) => (
              <tr key={name}>
                <td class="number soft">{index + 1}</td>
                <th scope="row">
                  <a class="trial-link" href={addressOf("notebooks", name)}>
                    {name.replaceAll("-", " ")}
                  </a>
                </th>
                <td class="soft">notebooks/{name}.ts</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </Sheet>
  );
}
