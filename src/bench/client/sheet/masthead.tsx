import { partsOf, place } from "../place.ts";

const drawers = [
  { address: "/trials", name: "Trials" },
  { address: "/notebooks", name: "Notebooks" },
] as const;

function Mark() {
  return (
    <svg viewBox="0 0 32 32" aria-hidden="true" focusable="false">
      <rect width="32" height="32" fill="#1c4d94" />
      <path
        d="M2 21q4.500-8 9.300 0q4.700-8 9.400 0q4.700-8 9.300 0"
        fill="none"
        stroke="#fff"
        stroke-width="2.200"
      />
      <path d="M2 27.500h28" stroke="#fff" stroke-width="1.400" />
    </svg>
  );
}

/** The top of every page: the bench's name and its two drawers. */
export function Masthead() {
  const [first = "trials"] = partsOf(place.value.path);
  const open = first === "notebooks" ? "/notebooks" : "/trials";
  return (
    <header class="masthead no-print">
      <a class="wordmark" href="/trials">
        <Mark />
        Trycut
      </a>
      <nav class="drawers" aria-label="Drawers">
        {drawers.map(({ address, name }) => (
          <a key={address} href={address} aria-current={address === open ? "true" : undefined}>
            {name}
          </a>
        ))}
      </nav>
    </header>
  );
}
