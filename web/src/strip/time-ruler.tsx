import { useRef, useSyncExternalStore } from 'react';
import { formatClock, t } from '../words/index.ts';
import type { Cursor } from './cursor.ts';
import type { StripLayout } from './kernels/lane-layout.ts';
import { panBy, toPx } from './kernels/time-axis.ts';
import { clockDigits } from './kernels/value-scale.ts';
import type { AxisControl } from './use-axis.ts';

interface TimeRulerProps {
  layout: StripLayout;
  control: AxisControl;
  cursor: Cursor;
  rest_s: number;
  canvas: React.RefObject<HTMLCanvasElement | null>;
  /** What a screen reader hears at a moment. */
  spoken: (time_s: number) => string;
}

/** The clock above the lanes. Dragging it pans; its marker is the crosshair's handle for the keyboard. */
export function TimeRuler({ layout, control, cursor, rest_s, canvas, spoken }: TimeRulerProps) {
  const at = useSyncExternalStore(cursor.subscribe, cursor.get) ?? rest_s;
  const held = useRef<number | null>(null);
  const { axis, extent, change } = control;
  const x = layout.plot_left + toPx(axis, at);
  const shown = x >= layout.plot_left - 1 && x <= layout.plot_left + layout.plot_width + 1;
  const put = (time_s: number): void => cursor.put(Math.min(Math.max(time_s, 0), extent.to_s));
  const rounded = Math.round(at * 2) / 2;
  return (
    <div
      className="time-ruler"
      style={{ height: layout.axis.height }}
      onPointerDown={(event) => {
        if (!control.zoomed) return;
        event.currentTarget.setPointerCapture(event.pointerId);
        held.current = event.clientX;
      }}
      onPointerMove={(event) => {
        if (held.current === null) return;
        const by = held.current - event.clientX;
        held.current = event.clientX;
        change((now, whole) => panBy(now, by, whole));
      }}
      onPointerUp={() => {
        held.current = null;
      }}
      data-zoomed={control.zoomed || undefined}
    >
      <canvas ref={canvas} />
      <div
        className="moment"
        role="slider"
        tabIndex={0}
        hidden={!shown}
        style={{ left: x }}
        aria-label={t('strip.moment')}
        aria-valuemin={0}
        aria-valuemax={extent.to_s}
        aria-valuenow={rounded}
        aria-valuetext={spoken(at)}
        onKeyDown={(event) => {
          const step =
            (event.shiftKey ? 10 : 1) * (event.key === 'ArrowLeft' ? -1 : event.key === 'ArrowRight' ? 1 : 0);
          if (step === 0) return;
          event.preventDefault();
          put(Math.round(at) + step);
        }}
      >
        {formatClock(rounded, clockDigits(rounded))}
      </div>
    </div>
  );
}
