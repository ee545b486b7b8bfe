import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { TitleBlock, type TitleCell } from "./title-block.tsx";

const columns = ["1", "2", "3", "4", "5", "6", "7", "8"];
const rows = ["A", "B", "C", "D", "E", "F"];

function Zones({ side, names }: { readonly side: string; readonly names: readonly string[] }) {
  return (
    <div class={`zones ${side}`} aria-hidden="true">
      {names.map((name) => (
        <span key={name}>{name}</span>
      ))}
    </div>
  );
}

export interface SheetProps {
  readonly heading: string;
  /** One sentence under the heading: what to do here. */
  readonly lead?: ComponentChildren;
  /** Beside the heading: a stamp, a button. */
  readonly beside?: ComponentChildren;
  readonly cells: readonly TitleCell[];
  readonly children: ComponentChildren;
}

/** A page of the bench. The heading takes the focus when the page is opened, so that a reader who listens hears where they are. */
export function Sheet({ heading, lead, beside, cells, children }: SheetProps) {
  const top = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    document.title = `${heading} · Trycut`;
    const elsewhere = document.activeElement;
    if (elsewhere === null || elsewhere === document.body || !elsewhere.isConnected) top.current?.focus();
  }, [heading]);
  return (
    <div class="desk">
      <main class="sheet" id="sheet" tabIndex={-1}>
        <Zones side="top" names={columns} />
        <Zones side="left" names={rows} />
        <div class="frame">
          <div class="sheet-body">
            <div class="sheet-head">
              <div>
                <h1 ref={top} tabIndex={-1}>
                  {heading}
                </h1>
                {lead === undefined ? null : <p class="lead">{lead}</p>}
              </div>
              {beside}
            </div>
            {children}
          </div>
          <TitleBlock cells={cells} />
        </div>
        <Zones side="right" names={rows} />
        <Zones side="bottom" names={columns} />
      </main>
    </div>
  );
}
