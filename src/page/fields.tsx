import type { ComponentChildren } from "preact";

interface FieldProps {
  label: ComponentChildren;
  value: string | number;
  /** What the service says is wrong here. */
  fault?: string | undefined;
}

/** One of several, in words. */
export function Choice(
  props: FieldProps & {
    /** An example that stands beside the label. */
    beside?: string;
    words: Record<string, string>;
    choose: (value: string) => void;
  },
) {
  const { label, beside, value, words, choose, fault } = props;
  return (
    <label>
      <span>
        {label} {beside && <span class="example">{beside}</span>}
      </span>
      <select
        value={value}
        aria-invalid={fault !== undefined}
        onChange={(event) => choose(event.currentTarget.value)}
      >
        {Object.entries(words).map(([one, text]) => (
          <option key={one} value={one}>
            {text}
          </option>
        ))}
      </select>
      {fault && <span class="fault">{fault}</span>}
    </label>
  );
}

/** A line of text, or a number with a comma or a point. */
export function Text(
  props: FieldProps & {
    type: (value: string) => void;
    numeric?: boolean;
    wide?: boolean;
    narrow?: boolean;
    required?: boolean;
    /** Handed on when it is left, since what is half typed reads back as something else. */
    lazy?: boolean;
    name?: string;
  },
) {
  const { label, value, type, numeric, wide, narrow, required, lazy, fault, name } = props;
  const hand = (event: { currentTarget: HTMLInputElement }) => type(event.currentTarget.value);
  return (
    <label class={wide ? "wide" : numeric || narrow ? "number" : undefined}>
      <span>{label}</span>
      <input
        value={value}
        data-field={name}
        inputMode={numeric ? "decimal" : undefined}
        autocomplete="off"
        spellcheck={false}
        required={required}
        aria-invalid={fault !== undefined}
        {...(lazy ? { onChange: hand } : { onInput: hand })}
      />
      {fault && <span class="fault">{fault}</span>}
    </label>
  );
}
