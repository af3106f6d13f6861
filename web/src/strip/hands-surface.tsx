import { MAX_SECONDS, type Plan, pourDuration, pourEnd } from '@pourline/core';
import { useEffect, useRef, useState } from 'react';
import { formatClock, formatNumber, t } from '../words/index.ts';
import {
  ACTION_ROOM,
  gramsAfterDrag,
  gramsAtTop,
  hitPour,
  labelRows,
  type PourBlock,
  type PourPart,
  pourBlocks,
} from './kernels/hands-layout.ts';
import { planKey } from './kernels/keys.ts';
import type { LaneBox } from './kernels/lane-layout.ts';
import {
  addPour,
  endPourAt,
  type Hands,
  moveAction,
  moveLift,
  moveOpening,
  movePour,
  movePourAndLater,
  setPourGrams,
} from './kernels/pour-edit.ts';
import { gridFor, onGrid, snap } from './kernels/snap.ts';
import { pxPerSecond, type TimeAxis, toPx, toSeconds } from './kernels/time-axis.ts';
import { clockDigits } from './kernels/value-scale.ts';
import { applyKey } from './pour-keys.ts';
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

interface Drag {
  pointer: number;
  index: number;
  part: PourPart;
  x: number;
  y: number;
  base: Hands;
  scale_g: number;
  moved: boolean;
  last: Hands;
}

const LONG_PRESS_ms = 500;
const EDGE_PX = 7;

const clock = (time_s: number): string => formatClock(time_s, clockDigits(time_s));

/** A pour in one line, as it is also read aloud. */
export function pourText(plan: Plan, index: number): string {
  const pour = plan.pours[index]!;
  const duration = pourDuration(pour);
  return t('strip.pour.value', {
    start: clock(pour.start_s),
    grams: formatNumber(pour.water_g, pour.water_g % 1 ? 1 : 0),
    seconds: formatNumber(duration, duration % 1 ? 1 : 0),
    celsius: formatNumber(pour.kettle_temperature_C, pour.kettle_temperature_C % 1 ? 1 : 0),
  });
}

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
    held.last = dragTo(
      held,
      event.clientX - held.x,
      event.clientY - held.y,
      axis,
      box,
      ripple !== event.shiftKey,
    );
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

export const handsOf = (plan: Plan): Hands => ({
  pours: plan.pours,
  actions: plan.actions,
  lift_s: plan.lift_s,
  outlet_opens_s: plan.outlet_opens_s,
});

const cursorFor = (part: PourPart | null): string =>
  part === 'body' ? 'grab' : part === 'end' ? 'ew-resize' : part === 'top' ? 'ns-resize' : '';

/** The plan after dragging a part by `dx, dy` [px] from where it was taken. */
function dragTo(held: Drag, dx: number, dy: number, axis: TimeAxis, box: LaneBox, ripple: boolean): Hands {
  const { base, index, part } = held;
  const pour = base.pours[index]!;
  const perSecond = pxPerSecond(axis);
  const grid = gridFor(perSecond);
  const reach = EDGE_PX / perSecond;
  const others = base.pours.filter((_, i) => i !== index);
  if (part === 'top') {
    const grams = gramsAfterDrag(pour.water_g, dy, box.plot.height, held.scale_g);
    return setPourGrams(base, index, onGrid(grams, 1));
  }
  if (part === 'end') {
    const end = pourEnd(pour) + dx / perSecond;
    return endPourAt(
      base,
      index,
      snap(
        end,
        grid,
        others.map((p) => p.start_s),
        reach,
      ).time_s,
    );
  }
  const edges = others.flatMap((p) => [pourEnd(p), p.start_s - pourDuration(pour)]);
  const start = snap(pour.start_s + dx / perSecond, grid, ripple ? [] : edges, reach).time_s;
  return ripple ? movePourAndLater(base, index, start) : movePour(base, index, start);
}

interface PourElementProps {
  block: PourBlock;
  plan: Plan;
  selected: boolean;
  readOnly: boolean;
  ripple: boolean;
  onSelect(id: string): void;
  onEdit(hands: Hands, settled: boolean): void;
}

function PourElement({ block, plan, selected, readOnly, ripple, onSelect, onEdit }: PourElementProps) {
  const { index, left, width, top, height } = block;
  const pour = plan.pours[index]!;
  const grams = formatNumber(pour.water_g, pour.water_g % 1 ? 1 : 0);
  return (
    <div
      className="pour"
      data-pour={pour.id}
      data-selected={selected || undefined}
      style={{ left, top, width, height }}
      role="slider"
      tabIndex={0}
      aria-label={t('strip.pour.name', { number: index + 1 })}
      aria-valuemin={0}
      aria-valuemax={MAX_SECONDS}
      aria-valuenow={pour.start_s}
      aria-valuetext={pourText(plan, index)}
      aria-readonly={readOnly}
      aria-describedby="strip-keys"
      onFocus={() => onSelect(pour.id)}
      onKeyDown={(event) => {
        const key = planKey({
          key: event.key,
          shift: event.shiftKey,
          alt: event.altKey,
          command: event.ctrlKey || event.metaKey,
        });
        if (!key || readOnly) return;
        event.preventDefault();
        onEdit(applyKey(handsOf(plan), index, key, ripple), true);
      }}
    >
      <span className="pour-label" aria-hidden="true">
        <b>
          {grams}
          <small> g</small>
        </b>
        <i>{formatNumber(pour.kettle_temperature_C, pour.kettle_temperature_C % 1 ? 1 : 0)}°</i>
      </span>
      <span className="pour-number" aria-hidden="true">
        {width >= 11 ? index + 1 : ''}
      </span>
      <span className="grip grip-top" aria-hidden="true" />
      <span className="grip grip-end" aria-hidden="true" />
    </div>
  );
}

/** The name of the water under each pour where it changes. */
function WaterNames(props: {
  plan: Plan;
  blocks: readonly PourBlock[];
  top: number;
  width: number;
  waterName: (id: string) => string;
}) {
  const { plan, blocks, top, width, waterName } = props;
  const changes = blocks.filter(
    ({ index }) => index === 0 || plan.pours[index]!.water_id !== plan.pours[index - 1]!.water_id,
  );
  const spans = changes.map(({ index, left }) => {
    const name = waterName(plan.pours[index]!.water_id);
    return { index, name, left, width: name.length * 6.4 };
  });
  const rows = labelRows(spans);
  return spans.map(({ index, name, left }, k) =>
    rows[k] !== 0 || left < -2 || left > width ? null : (
      <span key={plan.pours[index]!.id} className="water-name" style={{ left, top }} aria-hidden="true">
        {name}
      </span>
    ),
  );
}

function ActionMark({ what }: { what: 'stir' | 'swirl' }) {
  return (
    <svg viewBox="0 0 20 20" aria-hidden="true">
      {what === 'swirl' ? (
        <path d="M15.5 10a5.5 5.5 0 1 1-1.8-4.1M14 2.6v3.6h-3.6" />
      ) : (
        <path d="M3 10c1.8-4.5 3.4-4.5 4.7 0s2.9 4.5 4.6 0 2.9-4.5 4.7 0" />
      )}
    </svg>
  );
}
