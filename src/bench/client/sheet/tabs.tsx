export interface Tab {
  readonly address: string;
  readonly name: string;
}

/** The sheets of one folder, as tabs along its upper edge. */
export function Tabs({
  label,
  tabs,
  open,
}: {
  readonly label: string;
  readonly tabs: readonly Tab[];
  readonly open: string;
}) {
  return (
    <nav class="tabs no-print" aria-label={label}>
      {tabs.map(({ address, name }, index) => (
        <a key={address} href={address} aria-current={address === open ? "page" : undefined}>
          <span class="sheet-number" aria-hidden="true">
            {index + 1}
          </span>
          {name}
        </a>
      ))}
    </nav>
  );
}
