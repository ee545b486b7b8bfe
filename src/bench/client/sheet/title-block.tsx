/** One cell of a title block: what it is and what it says. */
export interface TitleCell {
  readonly label: string;
  readonly value: string;
  readonly size?: "wide" | "widest";
}

/** The block at the foot of a sheet that says what the sheet is about. */
export function TitleBlock({ cells }: { readonly cells: readonly TitleCell[] }) {
  return (
    <dl class="title-block">
      {cells.map(({ label, value, size }) => (
        <div key={label} class={size ?? ""}>
          <dt>{label}</dt>
          <dd>{value === "" ? "–" : value}</dd>
        </div>
      ))}
    </dl>
  );
}
