import type { ReactNode } from 'react';

interface BigProps {
  children: ReactNode;
  onPress: () => void;
  /** `main`: the one thing to do. */
  look?: 'main' | 'plain' | 'quiet';
  disabled?: boolean;
  pressed?: boolean;
  label?: string;
}

/** A button for a thumb. */
export function Big({ children, onPress, look = 'plain', disabled = false, pressed, label }: BigProps) {
  return (
    <button
      type="button"
      className={`big big-${look}`}
      disabled={disabled}
      aria-pressed={pressed}
      aria-label={label}
      onClick={onPress}
    >
      {pressed !== undefined && (
        <span className="big-mark" aria-hidden="true" data-on={pressed || undefined} />
      )}
      <span>{children}</span>
    </button>
  );
}

interface LineProps {
  id: string;
  label: string;
  hint?: string;
  problem?: string | undefined;
  children: ReactNode;
}

/** A field with its name over it. */
export function Line({ id, label, hint, problem, children }: LineProps) {
  return (
    <div className="line">
      <label htmlFor={id}>{label}</label>
      {children}
      {hint && <p className="line-hint">{hint}</p>}
      {problem && (
        <p className="line-problem" role="alert">
          {problem}
        </p>
      )}
    </div>
  );
}
