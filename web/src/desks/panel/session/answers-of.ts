import type { HostView } from '@pourline/core';

/** Answers of a seat as they are known here: the stream may be ahead of the count. */
export const answersOf = (view: HostView, seat: number): number => {
  const about = new Set(
    view.answers.filter((a) => a.seat === seat).map((a) => `${a.set} ${a.code} ${a.window_id}`),
  );
  return Math.max(about.size, view.seats.find((s) => s.seat === seat)?.answered ?? 0);
};
