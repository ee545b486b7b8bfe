import type { ComponentChildren } from "preact";
import { useEffect } from "preact/hooks";

const styleAddress = "/entries.css";

/** The look of entries comes from the library, and only with the first page that shows one: the list of trials needs none. */
export function useEntryStyle(): void {
  useEffect(() => {
    if (document.querySelector(`link[href="${styleAddress}"]`) !== null) return;
    const link = document.createElement("link");
    link.rel = "stylesheet";
    link.href = styleAddress;
    // Before the bench's own rules, which may set an entry apart on its page.
    document.head.prepend(link);
  }, []);
}

interface EntriesProps {
  readonly class?: string;
  readonly children: ComponentChildren;
}

/** Where figures, tables and other entries of the library stand, with their look. */
export function Entries({ class: extra = "", children }: EntriesProps) {
  useEntryStyle();
  return <div class={`entries ${extra}`}>{children}</div>;
}

/**
 * HTML that the library made and the bench's own server sent: figures and entries, the same as in a published page. It stands
 * inside `Entries`. Whatever came from data was escaped where it was made; nothing else may be given to this component.
 */
export function Made({ html }: { readonly html: string }) {
  return <div class="made" dangerouslySetInnerHTML={{ __html: html }} />;
}
