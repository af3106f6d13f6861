import { useRef } from 'react';
import { planKey } from './kernels/keys.ts';
import { onGrid } from './kernels/snap.ts';
import { pxPerSecond, type TimeAxis, toPx } from './kernels/time-axis.ts';

interface TimeHandleProps {
  axis: TimeAxis;
  time_s: number;
  className: string;
  top: number;
  label: string;
  valueText: string;
  max_s: number;
  readOnly: boolean;
  children: React.ReactNode;
  onMove(time_s: number, settled: boolean): void;
  onRemove?: (() => void) | undefined;
}

/** Something at one moment that can be dragged along the time axis, or moved by keys: a stir, the lift, the opening. */
export function TimeHandle(props: TimeHandleProps) {
  const { axis, time_s, className, top, label, valueText, max_s, readOnly, onMove, onRemove } = props;
  const drag = useRef<{ x: number; time_s: number; moved: boolean } | null>(null);

  const at = (x: number): number => {
    const from = drag.current!;
    return Math.max(0, onGrid(from.time_s + (x - from.x) / pxPerSecond(axis), 1));
  };

  const end = (x: number): void => {
    if (drag.current?.moved) onMove(at(x), true);
    drag.current = null;
  };

  return (
    <div
      className={`time-handle ${className}`}
      style={{ left: toPx(axis, time_s), top }}
      role="slider"
      tabIndex={0}
      aria-label={label}
      aria-valuemin={0}
      aria-valuemax={max_s}
      aria-valuenow={time_s}
      aria-valuetext={valueText}
      aria-readonly={readOnly}
      title={`${label}, ${valueText}`}
      onPointerDown={(event) => {
        if (readOnly || event.button !== 0) return;
        event.stopPropagation();
        event.currentTarget.setPointerCapture(event.pointerId);
        event.currentTarget.focus();
        drag.current = { x: event.clientX, time_s, moved: false };
      }}
      onPointerMove={(event) => {
        if (!drag.current) return;
        event.stopPropagation();
        if (!drag.current.moved && Math.abs(event.clientX - drag.current.x) < 3) return;
        drag.current.moved = true;
        onMove(at(event.clientX), false);
      }}
      onPointerUp={(event) => end(event.clientX)}
      onPointerCancel={(event) => end(event.clientX)}
      onKeyDown={(event) => {
        const plan = planKey({
          key: event.key,
          shift: event.shiftKey,
          alt: event.altKey,
          command: event.ctrlKey || event.metaKey,
        });
        if (!plan || readOnly) return;
        if (plan.do === 'move') onMove(Math.max(0, onGrid(time_s + plan.by_s, 0.5)), true);
        else if (plan.do === 'remove' && onRemove) onRemove();
        else return;
        event.preventDefault();
        event.stopPropagation();
      }}
    >
      {props.children}
    </div>
  );
}
