import type { BrewResult } from '@pourline/core';
import { type RefObject, useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { Cursor } from './cursor.ts';
import { dotsAt } from './dots.ts';
import { paintAxis } from './draw/ground.ts';
import { paintCrosshair, paintStrip } from './draw/paint.ts';
import { makeRooms, type Scene } from './draw/scene.ts';
import { toPx } from './kernels/time-axis.ts';

type Canvas = RefObject<HTMLCanvasElement | null>;

/**
 * Paints once a frame at most: lanes and ruler when the scene changed, the crosshair when it or the scene did. Tells the
 * page of every new prediction on screen with the event `strip:predicted`.
 */
export function usePainting(
  scene: Scene | null,
  lanes: Canvas,
  cross: Canvas,
  ruler: Canvas,
  cursor: Cursor,
  rest_s: number,
): void {
  const [rooms] = useState(makeRooms);
  const painted = useRef<BrewResult | null>(null);
  const crosshair = useRef(() => {});
  const newest = useRef(scene);
  const ruled = useRef<unknown[]>([]);
  const frame = useRef(0);

  // A layout effect, so that what is new is painted in this frame and not in the next.
  useLayoutEffect(() => {
    newest.current = scene;
    crosshair.current = () => paintCross(cross.current, scene, cursor.get() ?? rest_s);
    // One frame is asked for and then paints whatever is newest; asking anew each time could put it off forever.
    if (frame.current !== 0) return;
    frame.current = requestAnimationFrame(() => {
      frame.current = 0;
      const now = newest.current;
      if (!now) return;
      paintLanes(lanes.current, now, rooms);
      const marks = [now.layout, now.axis, now.palette];
      if (marks.some((part, i) => part !== ruled.current[i])) paintRuler(ruler.current, now);
      ruled.current = marks;
      crosshair.current();
      if (now.result === painted.current) return;
      painted.current = now.result;
      const detail = now.result?.resolution;
      lanes.current?.dispatchEvent(new CustomEvent('strip:predicted', { detail, bubbles: true }));
    });
  }, [scene, lanes, cross, ruler, cursor, rest_s, rooms]);

  useEffect(
    () => () => {
      cancelAnimationFrame(frame.current);
      frame.current = 0;
    },
    [],
  );
  useEffect(() => cursor.subscribe(() => crosshair.current()), [cursor]);
}

function paintLanes(
  canvas: HTMLCanvasElement | null,
  scene: Scene,
  rooms: ReturnType<typeof makeRooms>,
): void {
  const ctx = canvas?.getContext('2d');
  if (canvas && ctx) paintStrip(ctx, scene, rooms, fit(canvas, scene.layout.width, scene.layout.height));
}

function paintRuler(canvas: HTMLCanvasElement | null, scene: Scene): void {
  const ctx = canvas?.getContext('2d');
  if (!canvas || !ctx) return;
  const ratio = fit(canvas, scene.layout.width, scene.layout.axis.height);
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0);
  paintAxis(ctx, scene);
}

function paintCross(canvas: HTMLCanvasElement | null, scene: Scene | null, time_s: number): void {
  const ctx = canvas?.getContext('2d');
  if (!scene || !canvas || !ctx) return;
  // A canvas no wider than the line and its dots, moved along: far less to paint than the whole strip.
  const x = Math.round(scene.layout.plot_left + toPx(scene.axis, time_s));
  canvas.style.left = `${x - CROSS_PX / 2}px`;
  canvas.style.visibility = isShown(scene, x) ? 'visible' : 'hidden';
  paintCrosshair(ctx, scene, CROSS_PX, fit(canvas, CROSS_PX, scene.layout.height), dotsAt(scene, time_s));
}

/** Width of the crosshair's canvas [px]. */
const CROSS_PX = 14;

const isShown = ({ layout }: Scene, x: number): boolean =>
  x >= layout.plot_left - 1 && x <= layout.plot_left + layout.plot_width + 1;

/** Sizes a canvas at the screen's own resolution; returns device pixels per pixel. */
function fit(canvas: HTMLCanvasElement, width: number, height: number): number {
  const ratio = Math.min(3, window.devicePixelRatio || 1);
  const w = Math.round(width * ratio);
  const h = Math.round(height * ratio);
  if (canvas.width !== w || canvas.height !== h) {
    canvas.width = w;
    canvas.height = h;
    canvas.style.width = `${width}px`;
    canvas.style.height = `${height}px`;
  }
  return ratio;
}
