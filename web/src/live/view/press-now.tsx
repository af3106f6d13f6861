import type { ReactNode, PointerEvent as ReactPointerEvent } from 'react';

interface PressNowProps {
  className: string;
  /** Called with the moment of the touch on the page's own clock [ms]. */
  onPress: (mono_ms: number) => void;
  disabled?: boolean;
  label?: string;
  pressed?: boolean;
  children: ReactNode;
  [data: `data-${string}`]: string | number | undefined;
}

/**
 * A button that acts when it is touched, not when the finger lifts: a wet finger may slip off, and the moment of the touch is what is measured.
 * Keyboards and screen readers press it as any other button.
 */
export function PressNow({
  className,
  onPress,
  disabled = false,
  label,
  pressed,
  children,
  ...data
}: PressNowProps) {
  const touched = (event: ReactPointerEvent): void => {
    if (event.isPrimary && event.button === 0) onPress(event.timeStamp);
  };
  return (
    <button
      type="button"
      className={className}
      disabled={disabled}
      aria-label={label}
      aria-pressed={pressed}
      onPointerDown={touched}
      onClick={(event) => {
        if (event.detail === 0) onPress(event.timeStamp);
      }}
      {...data}
    >
      {children}
    </button>
  );
}
