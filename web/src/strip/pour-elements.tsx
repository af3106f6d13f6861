import { MAX_SECONDS, type Plan, pourDuration } from '@pourline/core';
import { formatClock, formatNumber, t } from '../words/index.ts';
import { labelRows, type PourBlock } from './kernels/hands-layout.ts';
import { planKey } from './kernels/keys.ts';
import type { Hands } from './kernels/pour-edit.ts';
import { clockDigits } from './kernels/value-scale.ts';
import { handsOf } from './pour-drag.ts';
import { applyKey } from './pour-keys.ts';

/** A moment on the clock, with tenths only where there are some. */
export const clock = (time_s: number): string => formatClock(time_s, clockDigits(time_s));

/** A pour in one line, as it is also read aloud. */
export function pourText(plan: Plan, index: number): string {
  const pour = plan.pours[index]!;
  const duration = pourDuration(pour);
  return t('strip.pour.value', {
    start: clock(pour.start_s),
    grams: formatNumber(pour.water_g, pour.water_g % 1 ? 1 : 0),
    seconds: formatNumber(duration, clockDigits(duration)),
    celsius: formatNumber(pour.kettle_temperature_C, pour.kettle_temperature_C % 1 ? 1 : 0),
  });
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

/** One pour: a block that can be focused and moved by keys. */
export function PourElement({ block, plan, selected, readOnly, ripple, onSelect, onEdit }: PourElementProps) {
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
export function WaterNames(props: {
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

/** The sign of a stir or a swirl. */
export function ActionMark({ what }: { what: 'stir' | 'swirl' }) {
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
