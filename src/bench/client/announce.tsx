import { signal } from "@preact/signals";

const spoken = signal("");

/** Says something to a reader who listens: a state that changed where the eyes are not. */
export function announce(text: string): void {
  // The same words twice would not be spoken again; an invisible difference makes them news.
  spoken.value = spoken.value === text ? `${text}\u00a0` : text;
}

export function Announcer() {
  return (
    <p class="heard-only" role="status" aria-live="polite">
      {spoken}
    </p>
  );
}
