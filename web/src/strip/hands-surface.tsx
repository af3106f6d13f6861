import { MAX_SECONDS, type Plan } from '@pourline/core';
import { useEffect, useRef, useState } from 'react';
import { formatNumber, t } from '../words/index.ts';
import { ACTION_ROOM, gramsAtTop, hitPour, type PourPart, pourBlocks } from './kernels/hands-layout.ts';
import type { LaneBox } from './kernels/lane-layout.ts';
import { addPour, type Hands, moveAction, moveLift, moveOpening } from './kernels/pour-edit.ts';
import { gridFor, onGrid } from './kernels/snap.ts';
import { pxPerSecond, type TimeAxis, toPx, toSeconds } from './kernels/time-axis.ts';
import { type Drag, dragTo, handsOf } from './pour-drag.ts';
import { ActionMark, clock, PourElement, WaterNames } from './pour-elements.tsx';
import { TimeHandle } from './time-handle.tsx';

export interface HandsSurfaceProps {
  plan: Plan;
  axis: TimeAxis;
  box: LaneBox;
  selected: string | null;
  ripple: boolean;
  readOnly: boolean;
  waterName: (id: string) => string;
  newId: () => string;
  onSelect(id: string | null): void;
  onEdit(hands: Hands, settled: boolean): void;
}

const LONG_PRESS_ms = 500;

/** The hands lane: pours, stirs, the lift and the opening as things that can be dragged, or moved by keys. */
export function HandsSurface(props: HandsSurfaceProps) {
  const { plan, axis, box, selected, ripple, readOnly, waterName, newId, onSelect, onEdit } = props;
  const root = useRef<HTMLElement>(null);
  const drag = useRef<Drag | null>(null);
  const press = useRef<{ timer: ReturnType<typeof setTimeout>; x: number; y: number } | null>(null);
  const [dragging, setDragging] = useState<PourPart | null>(null);
  const scale_g = drag.current?.scale_g ?? gramsAtTop(plan.pours);
  const blocks = pourBlocks(plan.pours, axis, box.plot.height, scale_g);

  const where = (event: { clientX: number; clientY: number }): { x: number; y: number } => {
    const edge = root.current!.getBoundingClientRect();
    return { x: event.clientX - edge.left, y: event.clientY - edge.top };
  };

  const find = (event: React.PointerEvent | React.MouseEvent, touch: boolean) => {
    const { x, y } = where(event);
    return hitPour(blocks, x, y, touch ? 20 : 5, (i) => !touch || plan.pours[i]?.id === selected);
  };

  const add = (event: { clientX: number; clientY: number }): void => {
    const time_s = onGrid(toSeconds(axis, where(event).x), gridFor(pxPerSecond(axis)));
    const added = addPour<Hands>(handsOf(plan), time_s, newId());
    if (!added) return;
    onSelect(added.hands.pours[added.index]!.id);
    onEdit(added.hands, true);
  };

  const forget = (): void => {
    if (press.current) clearTimeout(press.current.timer);
    press.current = null;
  };

  const down = (event: React.PointerEvent<HTMLElement>): void => {
    if (event.button !== 0 || readOnly) return;
    const touch = event.pointerType !== 'mouse';
    const hit = find(event, touch);
    if (!hit) {
      onSelect(null);
      if (touch) {
        const { clientX, clientY } = event;
        forget();
        press.current = {
          x: clientX,
          y: clientY,
          timer: setTimeout(() => {
            press.current = null;
            add({ clientX, clientY });
          }, LONG_PRESS_ms),
        };
      }
      return;
    }
    event.stopPropagation();
    event.preventDefault();
    root.current!.setPointerCapture(event.pointerId);
    const pour = plan.pours[hit.index]!;
    onSelect(pour.id);
    root
      .current!.querySelector<HTMLElement>(`[data-pour="${CSS.escape(pour.id)}"]`)
      ?.focus({ preventScroll: true });
    const base = handsOf(plan);
    const { index, part } = hit;
    drag.current = {
      pointer: event.pointerId,
      index,
      part,
      x: event.clientX,
      y: event.clientY,
      base,
      scale_g,
      moved: false,
      last: base,
    };
  };

  const move = (event: React.PointerEvent<HTMLElement>): void => {
    const held = drag.current;
    if (press.current && Math.hypot(event.clientX - press.current.x, event.clientY - press.current.y) > 8)
      forget();
    if (!held || held.pointer !== event.pointerId) {
      if (event.pointerType === 'mouse' && !readOnly)
        root.current!.style.cursor = cursorFor(find(event, false)?.part ?? null);
      return;
    }
    event.stopPropagation();
    const far = Math.hypot(event.clientX - held.x, event.clientY - held.y);
    if (!held.moved && far < (event.pointerType === 'mouse' ? 3 : 6)) return;
    if (!held.moved) setDragging(held.part);
    held.moved = true;
    const [dx, dy] = [event.clientX - held.x, event.clientY - held.y];
    held.last = dragTo(held, dx, dy, axis, box.plot.height, ripple !== event.shiftKey);
    onEdit(held.last, false);
  };

  const up = (event: React.PointerEvent<HTMLElement>): void => {
    forget();
    const held = drag.current;
    if (!held || held.pointer !== event.pointerId) return;
    drag.current = null;
    setDragging(null);
    if (held.moved) onEdit(held.last, true);
  };

  useEffect(() => {
    const cancel = (event: KeyboardEvent): void => {
      const held = drag.current;
      if (event.key !== 'Escape' || !held?.moved) return;
      drag.current = null;
      setDragging(null);
      onEdit(held.base, true);
    };
    addEventListener('keydown', cancel);
    return () => removeEventListener('keydown', cancel);
  }, [onEdit]);

  const base = box.plot.height - ACTION_ROOM;
  return (
    <section
      ref={root}
      aria-label={t('strip.lane.hands')}
      className="hands-surface"
      data-dragging={dragging ?? undefined}
      style={{ left: box.plot.left, top: box.plot.top, width: box.plot.width, height: box.plot.height }}
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={up}
      onDoubleClick={(event) => {
        if (!readOnly && !find(event, false)) add(event);
      }}
    >
      <WaterNames plan={plan} blocks={blocks} top={base + 26} width={box.plot.width} waterName={waterName} />
      {blocks.map((block) => (
        <PourElement
          key={plan.pours[block.index]!.id}
          block={block}
          plan={plan}
          selected={plan.pours[block.index]!.id === selected}
          readOnly={readOnly}
          ripple={ripple}
          onSelect={onSelect}
          onEdit={onEdit}
        />
      ))}
      {plan.actions.map((action, i) => (
        <TimeHandle
          key={action.id}
          axis={axis}
          time_s={action.start_s}
          top={base + 3}
          className={`action ${action.what}`}
          label={t(`strip.${action.what}`)}
          valueText={t('strip.action.value', {
            start: clock(action.start_s),
            seconds: formatNumber(action.duration_s),
          })}
          max_s={MAX_SECONDS}
          readOnly={readOnly}
          onMove={(time_s, settled) => onEdit(moveAction(handsOf(plan), i, time_s), settled)}
          onRemove={() => onEdit({ ...handsOf(plan), actions: plan.actions.filter((_, k) => k !== i) }, true)}
        >
          <ActionMark what={action.what} />
        </TimeHandle>
      ))}
      {plan.outlet_opens_s === null ? null : (
        <TimeHandle
          axis={axis}
          time_s={plan.outlet_opens_s}
          top={base + 3}
          className="flag opening"
          label={t('strip.opens')}
          valueText={clock(plan.outlet_opens_s)}
          max_s={MAX_SECONDS}
          readOnly={readOnly}
          onMove={(time_s, settled) => onEdit(moveOpening(handsOf(plan), time_s), settled)}
        >
          {t('strip.opens')} {clock(plan.outlet_opens_s)}
        </TimeHandle>
      )}
      {plan.lift_s === null ? null : (
        <TimeHandle
          axis={axis}
          time_s={plan.lift_s}
          top={2}
          className={`flag lift${toPx(axis, plan.lift_s) > box.plot.width - 84 ? ' leftwards' : ''}`}
          label={t('strip.lift')}
          valueText={clock(plan.lift_s)}
          max_s={MAX_SECONDS}
          readOnly={readOnly}
          onMove={(time_s, settled) => onEdit(moveLift(handsOf(plan), time_s), settled)}
        >
          {t('strip.lift')} {clock(plan.lift_s)}
        </TimeHandle>
      )}
    </section>
  );
}

const cursorFor = (part: PourPart | null): string =>
  part === 'body' ? 'grab' : part === 'end' ? 'ew-resize' : part === 'top' ? 'ns-resize' : '';
