import { Radio, RadioGroup } from 'react-aria-components/RadioGroup';
import { Icon, type IconName } from './icon.tsx';

export interface ChoiceProps<T extends string> {
  label: string;
  hideLabel?: boolean;
  value: T;
  options: readonly { value: T; label: string; icon?: IconName }[];
  onChange: (value: T) => void;
}

/** One of a few, all in view, side by side. */
export function Choice<T extends string>({
  label,
  hideLabel = false,
  value,
  options,
  onChange,
}: ChoiceProps<T>) {
  return (
    <div className="field">
      {!hideLabel && (
        <span className="field-label" aria-hidden="true">
          {label}
        </span>
      )}
      <RadioGroup
        className="choice"
        aria-label={label}
        orientation="horizontal"
        value={value}
        onChange={(next) => {
          const found = options.find((option) => option.value === next);
          if (found) onChange(found.value);
        }}
      >
        {options.map((option) => (
          <Radio key={option.value} value={option.value} className="choice-option">
            {option.icon && <Icon name={option.icon} />}
            <span>{option.label}</span>
          </Radio>
        ))}
      </RadioGroup>
    </div>
  );
}
