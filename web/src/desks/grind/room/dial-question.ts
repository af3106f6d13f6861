import {
  type BrewBundle,
  type BrewTransfer,
  type BrewTransferOrder,
  type DialPoint,
  type DrawdownAnswer,
  grinderCurve,
  type KnownBrew,
  type SettingAnswer,
  settingForDrawdown,
  transferByBrews,
  transferBySizes,
} from '@pourline/core';

/** A question about the dial that needs the engine, or a second grinder. */
export type DialQuestion =
  | {
      by: 'drawdown';
      points: readonly DialPoint[];
      touch_dial: number;
      bundle: BrewBundle;
      drawdown_s: number;
      known: readonly KnownBrew[];
    }
  | {
      by: 'sizes';
      from: readonly DialPoint[];
      dial: number;
      to: readonly DialPoint[];
      touch_dial: number;
    }
  | { by: 'brews'; order: BrewTransferOrder };

export type DialAnswer =
  | { by: 'drawdown'; answer: DrawdownAnswer }
  | { by: 'sizes'; answer: SettingAnswer }
  | { by: 'brews'; answer: BrewTransfer };

/** Answers it; null when there is nothing to go by. */
export function answerDial(question: DialQuestion, report: (done: number) => void): DialAnswer | null {
  if (question.by === 'brews') {
    const answer = transferByBrews(question.order);
    return answer && { by: 'brews', answer };
  }
  if (question.by === 'sizes') {
    if (question.from.length === 0 || question.to.length === 0) return null;
    const { from, dial, to, touch_dial } = question;
    return {
      by: 'sizes',
      answer: transferBySizes(grinderCurve(from), dial, grinderCurve(to), { touch_dial }),
    };
  }
  if (question.points.length === 0) return null;
  const { points, bundle, drawdown_s, known, touch_dial } = question;
  const answer = settingForDrawdown({
    bundle,
    curve: grinderCurve(points),
    drawdown_s,
    known,
    options: { touch_dial },
    progress: (done) => {
      report(done);
      return true;
    },
  });
  return answer && { by: 'drawdown', answer };
}
