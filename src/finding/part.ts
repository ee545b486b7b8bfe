import type { Entry } from "../notebook/index.ts";

/** One piece of a section: an entry as notebooks have it, or plain words. Every text is escaped when it is rendered. */
export type Part =
  | Entry
  | { readonly kind: "text"; readonly text: string }
  | { readonly kind: "quiet"; readonly text: string }
  | { readonly kind: "sub-heading"; readonly text: string }
  | { readonly kind: "list"; readonly items: readonly string[] }
  /** The main result: what each factor does, a sentence each. */
  | { readonly kind: "results"; readonly sentences: readonly string[] }
  /** What must be known before the result is read. */
  | { readonly kind: "warning"; readonly title: string; readonly texts: readonly string[] }
  /** What it comes to, set apart: a recipe. */
  | { readonly kind: "answer"; readonly tag: string; readonly texts: readonly string[] }
  | { readonly kind: "facts"; readonly facts: readonly (readonly [name: string, text: string])[] }
  | { readonly kind: "folded"; readonly summary: string; readonly parts: readonly Part[] }
  | { readonly kind: "download"; readonly name: string; readonly text: string; readonly zip: Uint8Array };

export interface Section {
  /** In kebab-case; the address of the section within the page. */
  readonly id: string;
  readonly title: string;
  readonly parts: readonly Part[];
}
