import { type RefObject, useEffect, useRef } from 'react';
import type { Cursor } from './cursor.ts';
import { panBy, pinch, type TimeAxis, toSeconds, zoomAt } from './kernels/time-axis.ts';
import type { AxisControl } from './use-axis.ts';

/**
 * Pointers and wheels on the lanes: moving shows values, two fingers zoom and pan, Ctrl or Cmd with the wheel zooms, a sideways
 * wheel pans. A plain wheel is left to the page.
 */
export function useZoom(
  surface: RefObject<HTMLElement | null>,
  plotLeft: number,
  control: AxisControl,
  cursor: Cursor,
) {
  const pointers = useRef(new Map<number, number>());
  const start = useRef<{ axis: TimeAxis; was: readonly [number, number] } | null>(null);
  const { axis, change } = control;

  const px = (clientX: number): number =>
    clientX - (surface.current?.getBoundingClientRect().left ?? 0) - plotLeft;

  useEffect(() => {
    const element = surface.current;
    if (!element) return;
    const wheel = (event: WheelEvent): void => {
      const at = event.clientX - element.getBoundingClientRect().left - plotLeft;
      if (event.ctrlKey || event.metaKey) {
        event.preventDefault();
        change((now, extent) => zoomAt(now, at, Math.exp(-event.deltaY / 240), extent));
      } else if (event.shiftKey || Math.abs(event.deltaX) > Math.abs(event.deltaY)) {
        event.preventDefault();
        change((now, extent) => panBy(now, event.deltaX || event.deltaY, extent));
      }
    };
    element.addEventListener('wheel', wheel, { passive: false });
    return () => element.removeEventListener('wheel', wheel);
  }, [surface, plotLeft, change]);

  const two = (): readonly [number, number] | null => {
    const [a, b] = [...pointers.current.values()];
    return a === undefined || b === undefined ? null : [a, b];
  };

  return {
    onPointerDown(event: React.PointerEvent): void {
      pointers.current.set(event.pointerId, px(event.clientX));
      const was = two();
      start.current = was ? { axis, was } : null;
      if (!was) cursor.put(toSeconds(axis, px(event.clientX)));
    },
    onPointerMove(event: React.PointerEvent): void {
      const at = px(event.clientX);
      if (pointers.current.has(event.pointerId)) pointers.current.set(event.pointerId, at);
      const now = two();
      const from = start.current;
      if (now && from) change((_, extent) => pinch(from.axis, from.was, now, extent));
      else if (event.pointerType === 'mouse') cursor.hover(inside(axis, at) ? toSeconds(axis, at) : null);
      else if (pointers.current.has(event.pointerId)) cursor.put(toSeconds(axis, at));
    },
    onPointerUp(event: React.PointerEvent): void {
      pointers.current.delete(event.pointerId);
      start.current = null;
    },
    onPointerCancel(event: React.PointerEvent): void {
      pointers.current.delete(event.pointerId);
      start.current = null;
    },
    onPointerLeave(event: React.PointerEvent): void {
      if (event.pointerType === 'mouse') cursor.hover(null);
    },
  };
}

const inside = (axis: TimeAxis, px: number): boolean => px >= 0 && px <= axis.width_px;
