import { describedBy, Field, type FieldWords } from "./field.tsx";

export interface ChoiceFieldProps<Value extends string> extends FieldWords {
  readonly value: Value;
  readonly choices: readonly (readonly [value: Value, text: string])[];
  readonly onValue: (value: Value) => void;
  readonly class?: string;
}

/** One of a few. */
export function ChoiceField<Value extends string>(props: ChoiceFieldProps<Value>) {
  const { id, value, choices, onValue, refusal } = props;
  const choose = (chosen: string) => {
    const found = choices.find(([candidate]) => candidate === chosen);
    if (found) onValue(found[0]);
  };
  return (
    <Field {...props}>
      <select
        id={id}
        value={value}
        aria-invalid={refusal ? true : undefined}
        aria-describedby={describedBy(props)}
        onChange={(event) => choose(event.currentTarget.value)}
      >
        {choices.map(([candidate, text]) => (
          <option key={candidate} value={candidate}>
            {text}
          </option>
        ))}
      </select>
    </Field>
  );
}
