import type { ComponentChildren } from "preact";

/** Something that was refused or went wrong: the message whole, and what may be done. */
export function Refusal({
  message,
  children,
}: {
  readonly message: string;
  readonly children?: ComponentChildren;
}) {
  return (
    <div class="amber-box" role="alert">
      <p>
        <strong>Not done.</strong> <span class="message">{message}</span>
      </p>
      {children}
    </div>
  );
}

/** The usual cautions. */
export function Cautions({ cautions }: { readonly cautions: readonly string[] }) {
  if (cautions.length === 0) return null;
  return (
    <section class="amber-box" aria-labelledby="cautions">
      <strong id="cautions">Before you cut</strong>
      <ul>
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </section>
  );
}

/** While an answer is on its way. */
export function Waiting({ what }: { readonly what: string }) {
  return (
    <p class="soft" role="status">
      {what}
    </p>
  );
}
