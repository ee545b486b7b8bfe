import { Announcer } from "./announce.tsx";
import { FindingPage } from "./finding/finding-page.tsx";
import { GrowPage } from "./grow/grow-page.tsx";
import { ImportPage } from "./import/import-page.tsx";
import { TablePage } from "./import/table-page.tsx";
import { NewTrialPage } from "./new-trial/new-trial-page.tsx";
import { NotebookPage } from "./live-page/notebook-page.tsx";
import { NotebooksPage } from "./live-page/notebooks-page.tsx";
import { addressOf, partsOf, place } from "./place.ts";
import { PlanPage } from "./plan/plan-page.tsx";
import { ReviewPage } from "./review/review-page.tsx";
import { RunSheetPage } from "./run-sheet/run-sheet-page.tsx";
import { Masthead } from "./sheet/masthead.tsx";
import { Sheet } from "./sheet/sheet.tsx";
import { TrialsPage } from "./trials/trials-page.tsx";

function Nowhere() {
  return (
    <Sheet heading="There is no such sheet" lead="The address leads to nothing on this bench." cells={[]}>
      <p>
        <a href={addressOf("trials")}>Go to the trials</a>
      </p>
    </Sheet>
  );
}

function TrialPage({ trial, sheet }: { readonly trial: string; readonly sheet: string }) {
  switch (sheet) {
    case "plan":
      return <PlanPage key={trial} trial={trial} />;
    case "run-sheet":
      return <RunSheetPage key={trial} trial={trial} />;
    case "finding":
      return <FindingPage key={trial} trial={trial} />;
    case "grow":
      return <GrowPage key={trial} trial={trial} />;
    case "import":
      return <ImportPage key={trial} trial={trial} />;
    case "review":
      return <ReviewPage key={trial} trial={trial} />;
    default:
      return <Nowhere />;
  }
}

function Page() {
  const [drawer = "trials", name, sheet = "plan", ...rest] = partsOf(place.value.path);
  if (rest.length > 0) return <Nowhere />;
  if (drawer === "import" && name === undefined) return <TablePage />;
  if (drawer === "new-trial" && name === undefined) return <NewTrialPage />;
  if (drawer === "trials")
    return name === undefined ? <TrialsPage /> : <TrialPage trial={name} sheet={sheet} />;
  if (drawer === "notebooks")
    return name === undefined ? <NotebooksPage /> : <NotebookPage key={name} name={name} />;
  return <Nowhere />;
}

/** The whole bench: the page of the address that is open. */
export function App() {
  return (
    <>
      <a class="skip" href="#sheet">
        Skip to the sheet
      </a>
      <Masthead />
      <Page />
      <Announcer />
    </>
  );
}
