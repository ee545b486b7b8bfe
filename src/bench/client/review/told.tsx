import { Entries, Made } from "../sheet/made.tsx";

interface Told {
  readonly sentences: readonly string[];
  readonly figures: readonly string[];
}

/** What was found, in words, with its figures beside. */
export function Sentences({ sentences, figures }: Told) {
  return (
    <Entries class="figures">
      <div class="sentences">
        {sentences.map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
      </div>
      {figures.map((html, index) => (
        <Made key={index} html={html} />
      ))}
    </Entries>
  );
}

/** What else a reader should know of what stands above, in small print. */
export function Footnotes({ texts }: { readonly texts: readonly string[] }) {
  const shown = texts.filter((text) => text !== "");
  return shown.length === 0 ? null : (
    <div class="soft small measure">
      {shown.map((text) => (
        <p key={text}>{text}</p>
      ))}
    </div>
  );
}

/** How what stands above was found, and by whose published method: one click away on screen, small print on paper. */
export function Method({ texts }: { readonly texts: readonly string[] }) {
  const shown = texts.filter((text) => text !== "");
  if (shown.length === 0) return null;
  return (
    <>
      <details class="method-behind no-print">
        <summary>Method and source</summary>
        <Footnotes texts={shown} />
      </details>
      <div class="only-print">
        <Footnotes texts={shown} />
      </div>
    </>
  );
}
