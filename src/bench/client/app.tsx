import { Announcer } from "./announce.tsx";
import { addressOf, partsOf, place } from "./place.ts";
import { Masthead } from "./sheet/masthead.tsx";
import { Sheet } from "./sheet/sheet.tsx";

function Nowhere() {
  return (
    <Sheet heading="There is no such sheet" lead="The address leads to nothing on this bench." cells={[]}>
      <p>
        <a href={addressOf("trials")}>Go to the trials</a>
      </p>
    </Sheet>
  );
}

function Page() {
  const parts = partsOf(place.value.path);
  if (parts.length === 0) return <Nowhere />;
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
