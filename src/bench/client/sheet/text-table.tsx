interface TextTableProps {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** A plain table of texts that the server has worded. */
export function TextTable({ columns, rows }: TextTableProps) {
  return (
    <table>
      <thead>
        <tr>
          {columns.map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row, index) => (
          <tr key={index}>
            {row.map((text, column) => (
              <td key={column}>{text}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
