import type { ComponentChildren } from "preact";

export interface FieldWords {
  /** Unique on the page; the control takes it. */
  readonly id: string;
  readonly label: string;
  readonly hint?: string | undefined;
  /** Why what was typed can't stand; empty where it can. */
  readonly refusal?: string | undefined;
}

/** The ids that describe a control, for `aria-describedby`. */
export function describedBy({ id, hint, refusal }: FieldWords): string | undefined {
  const ids = [hint ? `${id}-hint` : "", refusal ? `${id}-refusal` : ""].filter((part) => part !== "");
  return ids.length > 0 ? ids.join(" ") : undefined;
}

/** A control with its label above, its hint and its refusal below. */
export function Field({
  id,
  label,
  hint,
  refusal,
  class: extra = "",
  children,
}: FieldWords & { readonly class?: string; readonly children: ComponentChildren }) {
  return (
    <div class={`field ${extra}`}>
      <label for={id}>{label}</label>
      {children}
      {hint ? (
        <span class="hint" id={`${id}-hint`}>
          {hint}
        </span>
      ) : null}
      {refusal ? (
        <span class="refusal" id={`${id}-refusal`}>
          {refusal}
        </span>
      ) : null}
    </div>
  );
}
