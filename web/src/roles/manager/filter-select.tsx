import { useId } from "preact/hooks";

/** FilterSelect narrows a list down: its first choice is "all", so it is never required. */
export function FilterSelect({
  label,
  all,
  value,
  onValue,
  options,
}: {
  label: string;
  all: string;
  value: string;
  onValue: (value: string) => void;
  options: readonly { value: string; label: string }[];
}) {
  const id = useId();
  return (
    <span class="filter">
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(e) => onValue(e.currentTarget.value)}>
        <option value="">{all}</option>
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.label}
          </option>
        ))}
      </select>
    </span>
  );
}
