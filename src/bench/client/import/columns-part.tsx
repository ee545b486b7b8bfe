import { changeTable, preview, table } from "./import-state.ts";
import { TextTable } from "../sheet/text-table.tsx";

/** What each column of the table is taken for; another choice is made here. */
export function ColumnsPart() {
  const now = preview.value;
  if (now === null || now.columns.length === 0) return null;
  const setMeaning = (name: string, meaning: string) =>
    changeTable({ mapping: { ...table.value.mapping, [name]: meaning } });
  return (
    <section class="view" aria-labelledby="part-columns">
      <h2 id="part-columns">What each column is</h2>
      <div class="scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">Column</th>
              <th scope="col">First cells</th>
              <th scope="col">Taken for</th>
            </tr>
          </thead>
          <tbody>
            {now.columns.map((column, index) => (
              <tr key={column.name}>
                <th scope="row" id={`column-${index}`}>
                  {column.header}
                </th>
                <td class="soft">{column.samples.join(" · ")}</td>
                <td>
                  <select
                    aria-labelledby={`column-${index}`}
                    value={column.meaning ?? ""}
                    onChange={(event) => setMeaning(column.name, event.currentTarget.value)}
                  >
                    {column.meaning === null ? <option value="">asked below</option> : null}
                    {now.meanings.map((meaning) => (
                      <option key={meaning} value={meaning}>
                        {meaning}
                      </option>
                    ))}
                  </select>{" "}
                  <span class="soft small">{column.why}</span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

/** Why the table can't be taken in yet. */
export function WhyNotYet() {
  const now = preview.value;
  if (now === null) return null;
  if (now.problems.length > 0)
    return <p class="soft">First mend what is named above, in the table or by another choice.</p>;
  if (now.questions.length > 0) return <p class="soft">First answer what is asked above.</p>;
  return now.readings === 0 ? <p class="soft">The table holds no reading that is new to the trial.</p> : null;
}

/** What would be taken in: how much, and the first of it. */
export function TakenPart() {
  const now = preview.value;
  if (now === null || now.readings === 0) return null;
  const { first, readings, rows, runs, notes } = now;
  return (
    <section class="view" aria-labelledby="part-taken">
      <h2 id="part-taken">What would be taken in</h2>
      <p>
        <strong>
          {readings} {readings === 1 ? "reading" : "readings"}
        </strong>{" "}
        from {rows} {rows === 1 ? "row" : "rows"}
        {runs > 0 ? ` on ${runs} ${runs === 1 ? "run" : "runs"}` : ""}.
      </p>
      {notes.map((note) => (
        <p key={note} class="measure">
          {note}
        </p>
      ))}
      <div class="scroll">
        <TextTable columns={first.columns} rows={first.rows} />
      </div>
      {readings > first.rows.length ? <p class="soft">and {readings - first.rows.length} more</p> : null}
    </section>
  );
}
