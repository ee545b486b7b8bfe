import { describedBy, Field, type FieldWords } from "./field.tsx";

export interface TextFieldProps extends FieldWords {
  readonly value: string;
  readonly onValue: (value: string) => void;
  readonly onLeave?: () => void;
  readonly class?: string;
  readonly list?: string;
  readonly placeholder?: string;
  readonly lines?: number;
  /** Brings up the number keys of a tablet; a unit can be typed all the same. */
  readonly numeric?: "numeric";
}

/** A line of text (or several). Numbers are typed here too: the bench reads them, units and all. */
export function TextField(props: TextFieldProps) {
  const { id, value, onValue, onLeave, refusal, list, placeholder, lines, numeric } = props;
  const common = {
    id,
    value,
    placeholder,
    autocomplete: "off",
    "aria-invalid": refusal ? true : undefined,
    "aria-describedby": describedBy(props),
    onBlur: onLeave,
  } as const;
  return (
    <Field {...props}>
      {lines === undefined ? (
        <input
          {...common}
          type="text"
          list={list}
          inputMode={numeric === undefined ? undefined : "decimal"}
          spellcheck={false}
          onInput={(event) => onValue(event.currentTarget.value)}
        />
      ) : (
        <textarea {...common} rows={lines} onInput={(event) => onValue(event.currentTarget.value)} />
      )}
    </Field>
  );
}
