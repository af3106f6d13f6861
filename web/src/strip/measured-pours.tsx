import type { Plan } from '@pourline/core';
import { ACTION_ROOM, gramsAtTop, LABEL_ROOM } from './kernels/hands-layout.ts';
import type { LaneBox } from './kernels/lane-layout.ts';
import { type TimeAxis, toPx } from './kernels/time-axis.ts';
import type { MeasuredBrew } from './measured.ts';

interface MeasuredPoursProps {
  measured: readonly MeasuredBrew[];
  plan: Plan;
  axis: TimeAxis;
  box: LaneBox;
}

/** Pours as they were done: outlines over those of the plan, on the same scale of grams. */
export function MeasuredPours({ measured, plan, axis, box }: MeasuredPoursProps) {
  const { left, top, width, height } = box.plot;
  const scale = gramsAtTop(plan.pours);
  const base = height - ACTION_ROOM;
  const full = base - LABEL_ROOM;
  return (
    <div className="measured-pours" style={{ left, top, width, height }} aria-hidden="true">
      {measured.map(({ name, pours }, i) =>
        pours.map((pour) => {
          const from = toPx(axis, pour.start_s);
          const tall = Math.max(4, Math.min(1.3, pour.water_g / scale) * full);
          return (
            <span
              key={`${name} ${pour.start_s}`}
              className="measured-pour"
              data-second={i > 0 || undefined}
              style={{
                left: from,
                width: Math.max(4, toPx(axis, pour.end_s) - from),
                top: base - tall,
                height: tall,
              }}
            />
          );
        }),
      )}
    </div>
  );
}
