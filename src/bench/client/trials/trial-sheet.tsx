import type { ComponentChildren } from "preact";
import type { TrialHead, TrialSheet } from "../../api.ts";
import { addressOf } from "../place.ts";
import { Sheet } from "../sheet/sheet.tsx";
import { Tabs } from "../sheet/tabs.tsx";
import type { TitleCell } from "../sheet/title-block.tsx";

const sheets: readonly (readonly [sheet: TrialSheet, name: string])[] = [
  ["plan", "Plan"],
  ["run-sheet", "Run sheet"],
  ["review", "Review"],
  ["finding", "Finding"],
  ["import", "Import"],
];

function cellsOf(head: TrialHead, sheet: TrialSheet): readonly TitleCell[] {
  const number = sheets.findIndex(([name]) => name === sheet) + 1;
  return [
    { label: "Trial", value: head.title, size: "wide" },
    { label: "Question", value: head.question, size: "widest" },
    { label: "Sheet", value: `${number} of ${sheets.length}` },
    { label: "Folder", value: `experiments/${head.name}`, size: "wide" },
    { label: "Units", value: head.units },
    { label: "Date", value: head.date },
    { label: "Kind of data", value: head.dataKind },
    { label: "Data checksum", value: head.checksum.slice(0, 12) },
  ];
}

/** The words of the stamp that says what kind of data a trial holds; measured ones need none. */
export function Stamp({ dataKind }: { readonly dataKind: string }) {
  if (dataKind === "invented") return <span class="stamp">Invented data</span>;
  if (dataKind === "published") return <span class="stamp">Published data</span>;
  return null;
}

export interface TrialSheetFrameProps {
  readonly trial: string;
  readonly sheet: TrialSheet;
  /** Null while it is on its way. */
  readonly head: TrialHead | null;
  readonly heading: string;
  readonly lead: ComponentChildren;
  readonly beside?: ComponentChildren;
  readonly children: ComponentChildren;
}

/** One sheet of a trial's folder. */
export function TrialSheetFrame({
  trial,
  sheet,
  head,
  heading,
  lead,
  beside,
  children,
}: TrialSheetFrameProps) {
  const title = head?.title ?? trial;
  return (
    <>
      <Tabs
        label={`Sheets of ${title}`}
        tabs={sheets.map(([name, text]) => ({ address: addressOf("trials", trial, name), name: text }))}
        open={addressOf("trials", trial, sheet)}
      />
      <Sheet
        heading={`${title}: ${heading.charAt(0).toLowerCase()}${heading.slice(1)}`}
        lead={lead}
        beside={
          <div class="row middle">
            {head === null ? null : <Stamp dataKind={head.dataKind} />}
            {beside}
          </div>
        }
        cells={head === null ? [] : cellsOf(head, sheet)}
      >
        {children}
      </Sheet>
    </>
  );
}
