import {
  type AskedPlace,
  type CurveEstimate,
  curveAt,
  curveLine,
  type DialPoint,
  type GrindRemark,
  type GrindTarget,
  grinderCurve,
  type SettingAnswer,
  settingFor,
  zeroShift,
} from '@pourline/core';

/** What is asked of a grinder's curve, beside the curve itself. */
export type CurveAsk =
  | { by: 'at'; dial: number }
  | { by: 'setting'; target: GrindTarget }
  | { by: 'zero'; dial: number; d50_um: number; doubt: number };

export interface CurveQuestion {
  points: readonly DialPoint[];
  /** Where the burrs touch now, the beans, the burrs. */
  place: Omit<AskedPlace, 'dial'>;
  ask: CurveAsk | null;
}

/** A point of the drawn curve. */
export type LinePoint = Pick<CurveEstimate, 'dial' | 'd50_um' | 'next_d50_um' | 'fines_pct' | 'beyond'>;

export interface CurveAnswer {
  line: readonly LinePoint[];
  /** Measured part of the dial, as it reads now. */
  measured: { low: number; high: number };
  remarks: readonly GrindRemark[];
  reply:
    | { by: 'at'; estimate: CurveEstimate }
    | { by: 'setting'; answer: SettingAnswer }
    | { by: 'zero'; shift: ReturnType<typeof zeroShift> }
    | null;
}

/** Points along the dial that are drawn. */
const COUNT = 49;

/** Learns the curve of a grinder from its points, draws it, and answers one question. Null without a point. */
export function answerCurve({ points, place, ask }: CurveQuestion): CurveAnswer | null {
  if (points.length === 0) return null;
  const curve = grinderCurve(points);
  const touch = place.touch_dial ?? 0;
  const { low, high } = curve.measured;
  const span = high - low || Math.max(1, Math.abs(low));
  const drawn = curveLine(curve, low + touch - span / 4, high + touch + span / 4, COUNT, place);
  return {
    line: drawn.map(({ dial, d50_um, next_d50_um, fines_pct, beyond }) => ({
      dial,
      d50_um,
      next_d50_um,
      fines_pct,
      beyond,
    })),
    measured: { low: low + touch, high: high + touch },
    remarks: curve.remarks,
    reply: ask && replyTo(curve, place, ask),
  };
}

function replyTo(
  curve: ReturnType<typeof grinderCurve>,
  place: Omit<AskedPlace, 'dial'>,
  ask: CurveAsk,
): CurveAnswer['reply'] {
  if (ask.by === 'at') return { by: 'at', estimate: curveAt(curve, { ...place, dial: ask.dial }) };
  if (ask.by === 'setting') return { by: 'setting', answer: settingFor(curve, ask.target, place) };
  return { by: 'zero', shift: zeroShift(curve, ask, place) };
}
